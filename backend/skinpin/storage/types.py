"""Column types that mean the same on SQLite and PostgreSQL."""

from typing import Any

from sqlalchemy import BigInteger, Boolean, String, Text
from sqlalchemy.dialects import postgresql
from sqlalchemy.ext.compiler import compiles

# A locale's collation weighs punctuation last; the order of ids is the order of bytes.
Name = Text().with_variant(postgresql.TEXT(collation="C"), "postgresql")
Words = Text()
Whole = BigInteger()
YesNo = Boolean(create_constraint=False)

_STRICT = {String: "TEXT", Text: "TEXT", Boolean: "INTEGER", BigInteger: "INTEGER"}


def _compile_as(sql: str) -> Any:
    return lambda element, compiler, **options: sql


# STRICT tables know no VARCHAR, BOOLEAN or BIGINT.
for _type, _sql in _STRICT.items():
    compiles(_type, "sqlite")(_compile_as(_sql))
