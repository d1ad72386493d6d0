"""What is handed on: the record sheet, the tie-up card, tables."""
