"""The guards in PostgreSQL's words.

Every trigger is ENABLE ALWAYS, or a session in the replica role would pass by. Statements are written as the
server gives them back, so that what was created and what is found can be compared as text.
"""

from collections.abc import Iterator, Mapping, Sequence

from django.db.backends.utils import CursorWrapper

Guarded = Mapping[str, Sequence[Sequence[str]]]

_REFUSE = """
BEGIN
  RAISE EXCEPTION '% of % is refused: its rows are never changed', lower(TG_OP), TG_TABLE_NAME
    USING ERRCODE = 'restrict_violation';
END
"""
_NEXT = """
BEGIN
  IF NEW."index" IS DISTINCT FROM (SELECT coalesce(max("index"), -1) + 1 FROM ledger_leaf) THEN
    RAISE EXCEPTION 'insert into ledger_leaf is refused: not the next index'
      USING ERRCODE = 'restrict_violation';
  END IF;
  IF NEW.hash IS DISTINCT FROM
      (SELECT sha256('\\x00'::bytea || payload) FROM ledger_entry WHERE id = NEW.entry_id) THEN
    RAISE EXCEPTION 'insert into ledger_leaf is refused: not the hash of its entry'
      USING ERRCODE = 'restrict_violation';
  END IF;
  RETURN NEW;
END
"""
_FUNCTIONS = {"qrecords_append_only": _REFUSE, "qrecords_next_leaf": _NEXT}
_ALWAYS = "ALWAYS "


def definitions(guarded: Guarded, leaf_table: str) -> dict[str, str]:
    """Name of each function and trigger → its text as the server gives it back."""
    wanted = {name: _function(name, body) for name, body in _FUNCTIONS.items()}
    for name, (_, trigger) in _triggers(guarded, leaf_table).items():
        wanted[name] = _ALWAYS + trigger
    return wanted


def statements(guarded: Guarded, leaf_table: str) -> Iterator[str]:
    """What to run so that the functions and triggers are as defined."""
    for name, body in _FUNCTIONS.items():
        yield _function(name, body)
    for name, (table, trigger) in _triggers(guarded, leaf_table).items():
        yield f"DROP TRIGGER IF EXISTS {name} ON {table}"
        yield trigger
        yield f"ALTER TABLE {table} ENABLE ALWAYS TRIGGER {name}"


def found(cursor: CursorWrapper, tables: Sequence[str]) -> dict[str, str]:
    """Our functions, and every trigger of a person's making that stands on one of the tables."""
    cursor.execute(
        "SELECT proname, pg_get_functiondef(oid) FROM pg_proc WHERE proname = ANY(%s)", [list(_FUNCTIONS)]
    )
    present = dict(cursor.fetchall())
    cursor.execute(
        "SELECT t.tgname, CASE t.tgenabled WHEN 'A' THEN %s ELSE '' END || pg_get_triggerdef(t.oid, true) "
        "FROM pg_trigger t JOIN pg_class c ON c.oid = t.tgrelid "
        "WHERE NOT t.tgisinternal AND c.relname = ANY(%s)",
        [_ALWAYS, list(tables)],
    )
    return present | dict(cursor.fetchall())


def _triggers(guarded: Guarded, leaf_table: str) -> dict[str, tuple[str, str]]:
    wanted = {}
    for table in guarded:
        wanted[f"{table}_no_change"] = (table, f"BEFORE DELETE OR UPDATE ON {table} FOR EACH ROW")
        wanted[f"{table}_no_truncate"] = (table, f"BEFORE TRUNCATE ON {table} FOR EACH STATEMENT")
    if leaf_table in guarded:
        wanted[f"{leaf_table}_next"] = (leaf_table, f"BEFORE INSERT ON {leaf_table} FOR EACH ROW")
    return {
        name: (table, f"CREATE TRIGGER {name} {when} EXECUTE FUNCTION {_called(name)}()")
        for name, (table, when) in wanted.items()
    }


def _called(trigger: str) -> str:
    return "qrecords_next_leaf" if trigger.endswith("_next") else "qrecords_append_only"


def _function(name: str, body: str) -> str:
    return (
        f"CREATE OR REPLACE FUNCTION public.{name}()\n RETURNS trigger\n LANGUAGE plpgsql\n"
        f" SET search_path TO 'pg_catalog', 'public'\nAS $function${body}$function$\n"
    )
