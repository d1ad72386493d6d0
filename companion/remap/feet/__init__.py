"""What the feet have to do, and the order of treadles that they like best."""
