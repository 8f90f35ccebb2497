"""Sheets: marks on paper, at full size; the page furniture that lets the paper prove itself."""
