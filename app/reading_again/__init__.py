"""Filed sheets read again by a newer reader: decisions stay, and what is new or gone is listed."""
