"""The planner's page: the answers of `steps.planner` in words, pictures and workings. It reads no record."""
