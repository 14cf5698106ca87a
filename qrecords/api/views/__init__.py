"""The resources of the API, one module a subject. They translate in, make one call, translate out."""
