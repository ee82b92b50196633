"""Entries, standing values and exchange of a book; knows no word of the trade."""
