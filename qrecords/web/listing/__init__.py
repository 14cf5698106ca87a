"""Lists of rows as every page shows them: filtered, sorted, paged, exported; a fixed number of queries."""
