"""The pages of a work order: its machines, every place, both ends of a shaft, the release of a rebuild."""
