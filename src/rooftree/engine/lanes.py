"""Several houses, or several parts of one year, in the lanes of the processor.

A processor adds a row of numbers as fast as one. The hour loop therefore runs on *lanes*: a
value of type `Lanes` holds the same quantity of `WIDTH` runs side by side. Code that works
on lanes reads as if it were for one house: ``+ - * /`` and comparisons act on each lane,
numbers spread to all of them. What would be an ``if`` becomes `select`, since the lanes
may differ; a loop goes on until no lane needs it any more (`any_of`).

Arrays reach the hour loop in groups (see arrays.py): a group is one table of addresses,
whatever the number of its arrays. The annotation of each field tells what it is: `Row` for
lanes along one index, `Grid` along two, `Integers`, `Floats` and `Columns` for plain arrays
that all lanes share, `int` for one whole number.
"""

from __future__ import annotations

import operator
from functools import partial
from typing import TYPE_CHECKING, Any, TypeAlias

import numpy as np
from llvmlite import ir  # type: ignore[import-untyped]
from numba import types
from numba.core.imputils import lower_cast
from numba.core.typing.templates import (
    AbstractTemplate,
    AttributeTemplate,
    infer_getattr,
    infer_global,
    signature,
)
from numba.extending import (
    intrinsic,
    lower_builtin,
    lower_getattr_generic,
    models,
    register_model,
)

if TYPE_CHECKING:
    from collections.abc import Callable


def in_compiled_code(generator: Callable[..., Any]) -> Any:
    """Return what compiled code calls, from the function that generates it.

    Parameters
    ----------
    generator : callable
        Tells types, and what to generate for them.

    Returns
    -------
    callable
    """
    return intrinsic(generator)


WIDTH = 16
"""Lanes: twice as many numbers of eight bytes as the widest registers hold."""

BYTES = 8
"""Of one number."""

SAFE_MATH = ("contract", "nsz", "arcp")
"""Liberties that the compiler has with lanes: it may fuse, and share reciprocals; it may not
change the order of sums, which would undo the rounding in `split`."""

_DOUBLE, _LONG = ir.DoubleType(), ir.IntType(64)
_VECTOR, _BITS = ir.VectorType(_DOUBLE, WIDTH), ir.VectorType(_LONG, WIDTH)
_MASK = ir.VectorType(ir.IntType(1), WIDTH)


class LanesType(types.Type):
    """One number for each lane."""

    def __init__(self) -> None:
        super().__init__(name=f"Lanes{WIDTH}")

    def unify(self, _context: Any, other: Any) -> Any:
        """Let a plain number that a loop starts from become lanes."""
        return self if isinstance(other, types.Number | LanesType) else None

    def can_convert_from(self, _context: Any, other: Any) -> Any:
        """Tell that plain numbers spread to all lanes."""
        from numba.core.typeconv import Conversion  # type: ignore[attr-defined]

        return Conversion.safe if isinstance(other, types.Number) else None


class MaskType(types.Type):
    """A truth for each lane."""

    def __init__(self) -> None:
        super().__init__(name=f"Mask{WIDTH}")


class ArrayType(types.Type):
    """A bare array: where it is, and how long its rows are."""

    def __init__(self, kind: str) -> None:
        self.kind = kind
        super().__init__(name=f"{kind}{WIDTH}")


class GroupType(types.Type):
    """A table of addresses, with the names and kinds of what they point to."""

    def __init__(self, group: str, fields: tuple[tuple[str, str], ...]) -> None:
        self.fields = fields
        super().__init__(name=f"Group({group}, {fields}, {WIDTH})")


lanes_type, mask_type = LanesType(), MaskType()

register_model(LanesType)(
    type("LanesModel", (models.PrimitiveModel,), {
        "__init__": lambda self, dmm, fe: models.PrimitiveModel.__init__(self, dmm, fe, _VECTOR)
    })
)  # fmt: skip
register_model(MaskType)(
    type("MaskModel", (models.PrimitiveModel,), {
        "__init__": lambda self, dmm, fe: models.PrimitiveModel.__init__(self, dmm, fe, _MASK)
    })
)  # fmt: skip
register_model(GroupType)(
    type("GroupModel", (models.PrimitiveModel,), {
        "__init__": lambda self, dmm, fe: models.PrimitiveModel.__init__(
            self, dmm, fe, _LONG.as_pointer()
        )
    })
)  # fmt: skip


@register_model(ArrayType)
class _ArrayModel(models.StructModel):
    def __init__(self, dmm: Any, fe: Any) -> None:
        super().__init__(dmm, fe, [("address", types.int64), ("row", types.int64)])


# The arrays of a group, as Python sees them; the kind is what the compiler sees.
Row: TypeAlias = "np.ndarray[Any, np.dtype[np.float64]]"
Grid: TypeAlias = "np.ndarray[Any, np.dtype[np.float64]]"
Integers: TypeAlias = "np.ndarray[Any, np.dtype[np.int64]]"
Floats: TypeAlias = "np.ndarray[Any, np.dtype[np.float64]]"
Columns: TypeAlias = "np.ndarray[Any, np.dtype[np.float64]]"

_KINDS = {
    # name: element in memory, its number of indices
    "Row": (_VECTOR, 1),
    "Grid": (_VECTOR, 2),
    "Integers": (_LONG, 1),
    "Floats": (_DOUBLE, 1),
    "Columns": (_DOUBLE, 2),
}
_ELEMENT_TYPES = {
    "Row": lanes_type,
    "Grid": lanes_type,
    "Integers": types.int64,
    "Floats": types.float64,
    "Columns": types.float64,
}


_ALIKE = {"Row": "Floats", "Grid": "Columns"}
"""Kinds of arrays that all lanes share, in place of those with lanes."""


def group_reader(group: type[Any], *, alike: bool = False) -> Any:
    """Return the function that turns a table of addresses into a group, in compiled code.

    Parameters
    ----------
    group : type of NamedTuple
        Its annotations, as text, name the kind of each field.
    alike : bool
        Whether all lanes share one number for each element: the same code then runs with
        an eighth of the memory.

    Returns
    -------
    callable
        For use in compiled code, with the table that `addresses` made.
    """
    fields = tuple((name, _kind(kind, alike)) for name, kind in group.__annotations__.items())
    made = GroupType(group.__name__, fields)

    def read(_context: Any, _table: Any) -> Any:
        def generate(context: Any, builder: Any, sig: Any, arguments: Any) -> Any:
            array = context.make_array(sig.args[0])(context, builder, arguments[0])
            return builder.bitcast(array.data, _LONG.as_pointer())

        return made(types.Array(types.int64, 1, "C")), generate

    return in_compiled_code(read)


def kind_of(group: Any, name: str) -> str:
    """Return the kind of a field of a group, such as ``"Row"``.

    Parameters
    ----------
    group : NamedTuple
        A group, or its type.
    name : str
        Of the field.

    Returns
    -------
    str
    """
    return _text(group.__annotations__[name])


def _text(kind: Any) -> str:
    return str(getattr(kind, "__forward_arg__", getattr(kind, "__name__", kind)))


def _kind(kind: Any, alike: bool) -> str:
    text = _text(kind)
    return _ALIKE.get(text, text) if alike else text


def addresses(group: Any, *, alike: bool = False) -> np.ndarray[Any, np.dtype[np.int64]]:
    """Return the table of addresses of a group.

    Parameters
    ----------
    group : NamedTuple
        Arrays that are kept alive for as long as the table is used.
    alike : bool
        Whether its arrays are without lanes, as for `group_reader`.

    Returns
    -------
    ndarray of int64, shape (2 * fields,)
        For each field its address, or the number itself, and the length of a row in
        elements.

    Raises
    ------
    TypeError
        If an array has another type or shape than its kind asks for.
    """
    table = []
    for name, kind in group.__annotations__.items():
        value = getattr(group, name)
        if _text(kind) == "int":
            table += [int(value), 0]
            continue
        element, indices = _KINDS[_kind(kind, alike)]
        is_lanes = element is _VECTOR
        expected = np.int64 if element is _LONG else np.float64
        shape = value.shape[:-1] if is_lanes else value.shape
        fits = not is_lanes or value.shape[-1] == WIDTH
        if (
            value.dtype != expected
            or not value.flags.c_contiguous
            or len(shape) != indices
            or not fits
        ):
            message = (
                f"{type(group).__name__}.{name} has shape {value.shape} and type {value.dtype}"
            )
            raise TypeError(message)
        table += [value.ctypes.data, shape[1] if indices == 2 else 1]
    return np.array(table, dtype=np.int64)


def lanes_of(*shape: int, fill: float = 0.0) -> np.ndarray[Any, np.dtype[np.float64]]:
    """Return an array of lanes that starts where a cache line does.

    Parameters
    ----------
    shape : int
        Shape without the lanes [-].
    fill : float
        Value of all [any unit].

    Returns
    -------
    ndarray, shape (*shape, WIDTH)
    """
    count = int(np.prod(shape)) * WIDTH
    room = np.empty(count + WIDTH)
    shift = (-room.ctypes.data // BYTES) % WIDTH
    array = room[shift : shift + count].reshape(*shape, WIDTH)
    array[:] = fill
    return array


# --- groups and arrays in compiled code ------------------------------------------------


@infer_getattr
class _GroupFields(AttributeTemplate):
    key = GroupType

    def generic_resolve(self, group: Any, name: str) -> Any:  # type: ignore[override]
        kind = dict(group.fields).get(name)
        if kind is None:
            return None
        return types.int64 if kind == "int" else ArrayType(kind)


def _never_changing(builder: Any, table: Any, place: int) -> Any:
    """Return an entry of a table of addresses, which the compiler may read once and keep."""
    entry = builder.load(builder.gep(table, [ir.Constant(_LONG, place)]))
    entry.set_metadata("invariant.load", builder.module.add_metadata([]))
    return entry


@lower_getattr_generic(GroupType)
def _read_field(context: Any, builder: Any, group: Any, value: Any, name: str) -> Any:
    place = [each for each, _ in group.fields].index(name)
    first = _never_changing(builder, value, 2 * place)
    kind = group.fields[place][1]
    if kind == "int":
        return first
    row = _never_changing(builder, value, 2 * place + 1)
    made = context.make_helper(builder, ArrayType(kind))
    made.address, made.row = first, row
    return made._getvalue()


def _place(
    context: Any, builder: Any, array_type: Any, array: Any, index_type: Any, index: Any
) -> Any:
    """Return the pointer to an element."""
    made = context.make_helper(builder, array_type, value=array)
    element, indices = _KINDS[array_type.kind]
    if indices == 1:
        at = context.cast(builder, index, index_type, types.int64)
    else:
        parts = [
            context.cast(builder, builder.extract_value(index, i), index_type[i], types.int64)
            for i in range(2)
        ]
        at = builder.add(builder.mul(parts[0], made.row), parts[1])
    base = builder.inttoptr(made.address, element.as_pointer())
    return builder.gep(base, [at])


def _fits(array: Any, index: Any) -> bool:
    if not isinstance(array, ArrayType):
        return False
    if _KINDS[array.kind][1] == 1:
        return isinstance(index, types.Integer)
    return isinstance(index, types.BaseTuple) and len(index) == 2


@infer_global(operator.getitem)
class _Get(AbstractTemplate):
    def generic(self, args: Any, _kws: Any) -> Any:
        array, index = args
        if _fits(array, index):
            return signature(_ELEMENT_TYPES[array.kind], array, index)
        return None


@infer_global(operator.setitem)
class _Set(AbstractTemplate):
    def generic(self, args: Any, _kws: Any) -> Any:
        array, index, _value = args
        if _fits(array, index):
            return signature(types.none, array, index, _ELEMENT_TYPES[array.kind])
        return None


def _aligned(kind: str) -> int:
    return BYTES * WIDTH if _KINDS[kind][0] is _VECTOR else BYTES


@lower_builtin(operator.getitem, ArrayType, types.Any)
def _get(context: Any, builder: Any, sig: Any, arguments: Any) -> Any:
    place = _place(context, builder, sig.args[0], arguments[0], sig.args[1], arguments[1])
    return builder.load(place, align=_aligned(sig.args[0].kind))


@lower_builtin(operator.setitem, ArrayType, types.Any, types.Any)
def _set(context: Any, builder: Any, sig: Any, arguments: Any) -> Any:
    place = _place(context, builder, sig.args[0], arguments[0], sig.args[1], arguments[1])
    builder.store(arguments[2], place, align=_aligned(sig.args[0].kind))
    return context.get_dummy_value()


# --- arithmetic ------------------------------------------------------------------------


def _spread(builder: Any, number: Any) -> Any:
    """Return lanes that all hold one number."""
    first = builder.insert_element(
        ir.Constant(_VECTOR, ir.Undefined), number, ir.Constant(ir.IntType(32), 0)
    )
    shuffle = ir.Constant(ir.VectorType(ir.IntType(32), WIDTH), [0] * WIDTH)
    return builder.shuffle_vector(first, ir.Constant(_VECTOR, ir.Undefined), shuffle)


def _constant(number: float) -> Any:
    return ir.Constant(_VECTOR, [number] * WIDTH)


@lower_cast(types.Number, LanesType)
def _to_lanes(context: Any, builder: Any, from_type: Any, _to_type: Any, value: Any) -> Any:
    return _spread(builder, context.cast(builder, value, from_type, types.float64))


def _is_lanes(args: Any) -> bool:
    return any(isinstance(each, LanesType) for each in args) and all(
        isinstance(each, LanesType | types.Number) for each in args
    )


def _register(operation: Any, result: Any, generate: Any, count: int = 2) -> None:
    class Template(AbstractTemplate):
        key = operation

        def generic(self, args: Any, _kws: Any) -> Any:
            if len(args) == count and _is_lanes(args):
                return signature(result, *[lanes_type] * count)
            return None

    infer_global(operation)(Template)

    def lower(_context: Any, builder: Any, _sig: Any, arguments: Any) -> Any:
        return generate(builder, *arguments)

    lower_builtin(operation, *[LanesType] * count)(lower)


for _operations, _name in (
    ((operator.add, operator.iadd), "fadd"),
    ((operator.sub, operator.isub), "fsub"),
    ((operator.mul, operator.imul), "fmul"),
    ((operator.truediv, operator.itruediv), "fdiv"),
):
    for _operation in _operations:
        _register(
            _operation,
            lanes_type,
            partial(
                lambda name, builder, a, b: getattr(builder, name)(a, b, flags=SAFE_MATH), _name
            ),
        )

for _operation, _sign in (
    (operator.lt, "<"), (operator.le, "<="), (operator.gt, ">"), (operator.ge, ">="),
):  # fmt: skip
    _register(
        _operation,
        mask_type,
        partial(lambda sign, builder, a, b: builder.fcmp_ordered(sign, a, b), _sign),
    )

_register(operator.neg, lanes_type, lambda builder, a: builder.fsub(_constant(-0.0), a), 1)


def _smaller(builder: Any, a: Any, b: Any) -> Any:
    return builder.select(builder.fcmp_ordered("<", a, b), a, b)


def _larger(builder: Any, a: Any, b: Any) -> Any:
    return builder.select(builder.fcmp_ordered(">", a, b), a, b)


def _of_library(builder: Any, name: str, *values: Any) -> Any:
    kind = ir.FunctionType(_VECTOR, [_VECTOR] * len(values))
    function = builder.module.globals.get(f"llvm.{name}.v{WIDTH}f64")
    if function is None:
        function = ir.Function(builder.module, kind, f"llvm.{name}.v{WIDTH}f64")
    return builder.call(function, values)


_register(min, lanes_type, _smaller)
_register(max, lanes_type, _larger)
_register(abs, lanes_type, lambda builder, a: _of_library(builder, "fabs", a), 1)


def _masks(operation: Any, name: str, count: int = 2) -> None:
    class Template(AbstractTemplate):
        key = operation

        def generic(self, args: Any, _kws: Any) -> Any:
            if len(args) == count and all(isinstance(each, MaskType) for each in args):
                return signature(mask_type, *args)
            return None

    infer_global(operation)(Template)

    def lower(_context: Any, builder: Any, _sig: Any, arguments: Any) -> Any:
        return getattr(builder, name)(*arguments)

    lower_builtin(operation, *[MaskType] * count)(lower)


_masks(operator.and_, "and_")
_masks(operator.or_, "or_")
_masks(operator.invert, "not_", 1)


@in_compiled_code
def root(_context: Any, _number: Any) -> Any:
    """Return the square root of lanes."""

    def generate(_context: Any, builder: Any, _sig: Any, arguments: Any) -> Any:
        return _of_library(builder, "sqrt", arguments[0])

    return lanes_type(lanes_type), generate


@in_compiled_code
def select(_context: Any, _mask: Any, _one: Any, _other: Any) -> Any:
    """Return `one` in the lanes where the mask is true, `other` elsewhere."""

    def generate(_context: Any, builder: Any, _sig: Any, arguments: Any) -> Any:
        return builder.select(*arguments)

    return lanes_type(mask_type, lanes_type, lanes_type), generate


@in_compiled_code
def spread(_context: Any, _number: Any) -> Any:
    """Return lanes that all hold this number."""

    def generate(_context: Any, builder: Any, _sig: Any, arguments: Any) -> Any:
        return _spread(builder, arguments[0])

    return lanes_type(types.float64), generate


@in_compiled_code
def any_of(_context: Any, _mask: Any) -> Any:
    """Return whether the mask is true in any lane."""

    def generate(_context: Any, builder: Any, _sig: Any, arguments: Any) -> Any:
        bits = builder.bitcast(arguments[0], ir.IntType(WIDTH))
        return builder.icmp_unsigned("!=", bits, ir.Constant(ir.IntType(WIDTH), 0))

    return types.boolean(mask_type), generate


@in_compiled_code
def lane(_context: Any, _lanes: Any, _index: Any) -> Any:
    """Return the number in one lane."""

    def generate(_context: Any, builder: Any, _sig: Any, arguments: Any) -> Any:
        return builder.extract_element(*arguments)

    return types.float64(lanes_type, types.int64), generate


@in_compiled_code
def with_lane(_context: Any, _lanes: Any, _index: Any, _number: Any) -> Any:
    """Return lanes with the number in one of them replaced."""

    def generate(_context: Any, builder: Any, _sig: Any, arguments: Any) -> Any:
        lanes, index, number = arguments
        return builder.insert_element(lanes, number, index)

    return lanes_type(lanes_type, types.int64, types.float64), generate


_ROUND = 6755399441055744.0  # 1.5 * 2**52: adding it rounds to a whole number
_ROUND_BITS = int(np.float64(_ROUND).view(np.int64))
_ROOT_HALF_BITS = int(np.float64(np.sqrt(0.5)).view(np.int64))


def _whole(number: int) -> Any:
    return ir.Constant(_BITS, [number] * WIDTH)


@in_compiled_code
def whole_log2(_context: Any, _number: Any) -> Any:
    """Return `k` for lanes above zero that are ``2**k * (1 + f)``, see `one_plus`."""

    def generate(_context: Any, builder: Any, _sig: Any, arguments: Any) -> Any:
        k = _exponent(builder, arguments[0])
        rounded = builder.bitcast(builder.add(k, _whole(_ROUND_BITS)), _VECTOR)
        return builder.fsub(rounded, _constant(_ROUND))

    return lanes_type(lanes_type), generate


@in_compiled_code
def one_plus(_context: Any, _number: Any) -> Any:
    """Return ``1 + f``, between the roots of 1/2 and of 2, for lanes ``2**k * (1 + f)``."""

    def generate(_context: Any, builder: Any, _sig: Any, arguments: Any) -> Any:
        bits = builder.bitcast(arguments[0], _BITS)
        k = _exponent(builder, arguments[0])
        return builder.bitcast(builder.sub(bits, builder.shl(k, _whole(52))), _VECTOR)

    return lanes_type(lanes_type), generate


def _exponent(builder: Any, value: Any) -> Any:
    bits = builder.bitcast(value, _BITS)
    return builder.ashr(builder.sub(bits, _whole(_ROOT_HALF_BITS)), _whole(52))


@in_compiled_code
def nearest(_context: Any, _number: Any) -> Any:
    """Return the nearest whole numbers of lanes below 2**51 in size."""

    def generate(_context: Any, builder: Any, _sig: Any, arguments: Any) -> Any:
        return _of_library(builder, "rint", arguments[0])

    return lanes_type(lanes_type), generate


@in_compiled_code
def doubled(_context: Any, _number: Any, _times: Any) -> Any:
    """Return lanes times ``2**times``, for whole `times` that lead to no overflow."""

    def generate(_context: Any, builder: Any, _sig: Any, arguments: Any) -> Any:
        number, times = arguments
        shifted = builder.fadd(times, _constant(_ROUND))
        power = builder.shl(builder.bitcast(shifted, _BITS), _whole(52))
        return builder.bitcast(builder.add(builder.bitcast(number, _BITS), power), _VECTOR)

    return lanes_type(lanes_type, lanes_type), generate


_CUBE_ROOT_BITS = 0x553EF1A9FBE76C8C  # leaves the least error, 3.4 %, over all mantissas


@in_compiled_code
def rough_inverse_cube_root(_context: Any, _number: Any) -> Any:
    """Return a first guess of ``u ** (-1/3)``, within 4 %, for lanes from zero up."""

    def generate(_context: Any, builder: Any, _sig: Any, arguments: Any) -> Any:
        # a third of the bits is a third of the exponent; as a fraction of 2**32
        bits = builder.bitcast(arguments[0], _BITS)
        high = builder.lshr(bits, _whole(32))
        third = builder.mul(high, _whole(0x55555555))
        return builder.bitcast(builder.sub(_whole(_CUBE_ROOT_BITS), third), _VECTOR)

    return lanes_type(lanes_type), generate
