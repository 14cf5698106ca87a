"""The only writers of mountings, one module a verb. Each act is one transaction with its entries."""
