"""The fewest treadles that open a set of sheds: bounds, engines, and the portfolio that runs them."""
