"""The sheet of paper for the shop: the screens in their order as boxes to write in, with limits, plan and the
address at which it is entered later. Only what the record holds stands on it."""
