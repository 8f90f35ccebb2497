"""What a workshop makes of one job or many: which pieces are alike, one number for them, in the order of its saw."""
