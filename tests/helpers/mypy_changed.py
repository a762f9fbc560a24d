"""A plugin of mypy: `changed(record, field=value)` is checked like the record's own constructor.

`msgspec.structs.replace` takes anything; a field misspelt or of another type would be found in flight only.
"""

from __future__ import annotations

from collections.abc import Callable

from mypy.nodes import ARG_NAMED_OPT, ARG_POS
from mypy.plugin import FunctionSigContext, Plugin
from mypy.types import CallableType, FunctionLike, Instance, Type, get_proper_type

CHANGED = "navlog.nav.record.changed"


def _signature(context: FunctionSigContext) -> FunctionLike:
    plain = context.default_signature
    record = context.args[0][0] if context.args and context.args[0] else None
    if record is None:
        return plain
    kind: Type = get_proper_type(context.api.get_expression_type(record))
    if not (isinstance(kind, Instance) and kind.type.has_base("msgspec.Struct")):
        return plain
    made = get_proper_type(kind.type["__init__"].type)
    if not isinstance(made, CallableType):
        return plain
    return plain.copy_modified(
        arg_types=[kind, *made.arg_types[1:]],
        arg_names=[None, *made.arg_names[1:]],
        arg_kinds=[ARG_POS, *[ARG_NAMED_OPT] * (len(made.arg_types) - 1)],
        ret_type=kind,
        variables=[],
    )


class ChangedPlugin(Plugin):
    """Gives `changed` the fields of the record that it is called with."""

    def get_function_signature_hook(self, fullname: str) -> Callable[[FunctionSigContext], FunctionLike] | None:
        return _signature if fullname == CHANGED else None


def plugin(version: str) -> type[Plugin]:
    return ChangedPlugin
