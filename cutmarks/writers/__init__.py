"""Writers: plans and sheets as files; coordinates are rounded only here, and file libraries live only here."""
