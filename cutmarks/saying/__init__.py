"""What is said of a plan, in words and figures, for every output: it takes plan values, never a drawing."""
