"""Pages of look-backs: which there are, opening one, what became of each mounting. Imports the parts, lists
and forms of `web`; only its views import it."""
