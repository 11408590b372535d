"""Values behave as the standard library's dataclasses do (the source of what is expected here)."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker import lazy_dataclass as values

Decorator = Callable[..., Any]
BOTH = pytest.mark.parametrize("dataclass", [dataclasses.dataclass, values.dataclass], ids=["standard", "ours"])


def stitch(dataclass: Decorator, **how: bool) -> Any:
    field = dataclasses.field if dataclass is dataclasses.dataclass else values.field

    @dataclass(**how)
    class Stitch:
        """A sort of stitch."""

        name: str
        height: float = 1.0
        loops: list[str] = field(default_factory=list, repr=False)
        worked: int = field(default=0)

        def tall(self) -> bool:
            return self.height > 1

    return Stitch


@BOTH
@pytest.mark.parametrize("slots", [True, False])
def test_arguments_defaults_and_what_is_told(dataclass: Decorator, slots: bool) -> None:
    made = stitch(dataclass, slots=slots)
    one, other = made("sc"), made("dc", 3.0, worked=2)
    assert (one.name, one.height, one.loops, one.worked, one.tall()) == ("sc", 1.0, [], 0, False)
    assert (other.height, other.worked, other.tall()) == (3.0, 2, True)
    assert one.loops is not other.loops
    assert repr(other).endswith("Stitch(name='dc', height=3.0, worked=2)")
    assert made.__match_args__ == ("name", "height", "loops", "worked")
    with pytest.raises(TypeError, match="name"):
        made()
    with pytest.raises(TypeError, match="colour"):
        made("sc", colour="red")


@BOTH
def test_what_is_frozen_stays_and_has_a_hash(dataclass: Decorator) -> None:
    frozen, loose = stitch(dataclass, frozen=True, slots=True)("sc"), stitch(dataclass)("sc")
    with pytest.raises(dataclasses.FrozenInstanceError):
        frozen.name = "dc"
    with pytest.raises(dataclasses.FrozenInstanceError):
        del frozen.name
    loose.name = "dc"
    assert loose.name == "dc" and frozen.name == "sc"
    assert type(loose).__hash__ is None


@BOTH
def test_slots_leave_no_room_for_more(dataclass: Decorator) -> None:
    with pytest.raises(AttributeError):
        stitch(dataclass, slots=True)("sc").colour = "red"
    loose = stitch(dataclass)("sc")
    loose.colour = "red"
    assert loose.colour == "red"


@BOTH
def test_the_standard_library_goes_on_working_on_them(dataclass: Decorator) -> None:
    one = stitch(dataclass, frozen=True, slots=True)("sc", loops=["back"])
    assert dataclasses.replace(one, height=2.0).height == 2.0 and one.height == 1.0
    assert dataclasses.asdict(one) == {"name": "sc", "height": 1.0, "loops": ["back"], "worked": 0}
    assert [each.name for each in dataclasses.fields(one)] == ["name", "height", "loops", "worked"]
    assert dataclasses.is_dataclass(one)


@pytest.mark.parametrize("how", [{"frozen": True, "slots": True}, {"frozen": True}, {}])
def test_one_like_another_but_for_a_value(how: dict[str, bool]) -> None:
    one = stitch(values.dataclass, **how)("sc", loops=["back"])
    other = values.replace(one, height=2.0, name="hdc")
    assert other == dataclasses.replace(one, height=2.0, name="hdc")
    assert other.loops is one.loops and one.height == 1.0


@BOTH
def test_own_methods_come_first(dataclass: Decorator) -> None:
    @dataclass(frozen=True, eq=False)
    class Same:
        part: object

        def __hash__(self) -> int:
            return 7

        def __repr__(self) -> str:
            return "same"

    assert hash(Same(1)) == 7 and repr(Same(1)) == "same"
    assert Same(1) != Same(1)


@BOTH
def test_one_that_is_made_more_of_after_it_was_filled(dataclass: Decorator) -> None:
    @dataclass
    class Counted:
        stitches: int

        def __post_init__(self) -> None:
            self.doubled = 2 * self.stitches

    assert Counted(4).doubled == 8


@BOTH
def test_one_of_many_parts_is_as_frozen_after_the_first_few(dataclass: Decorator) -> None:
    field = dataclasses.field if dataclass is dataclasses.dataclass else values.field

    @dataclass(frozen=True, slots=True)
    class Swatch:
        stitch: str
        stitches: int
        rounds: int
        hook: float = 3.5
        yarn: str = "A"
        notes: list[str] = field(default_factory=list)
        washed: bool = False

        def __post_init__(self) -> None:
            if self.rounds < 1:
                raise ValueError("no swatch")

    many = [Swatch("sc", number, rounds=26, washed=True) for number in range(1, 40)]
    for each in (many[0], many[-1]):
        assert type(each) is Swatch and isinstance(each, Swatch)
        assert (each.stitch, each.rounds, each.hook, each.yarn, each.notes, each.washed) == (
            "sc",
            26,
            3.5,
            "A",
            [],
            True,
        )
        with pytest.raises(dataclasses.FrozenInstanceError):
            each.hook = 4.0
        with pytest.raises(ValueError, match="no swatch"):
            Swatch("sc", 20, 0)
    assert many[0] == Swatch("sc", 1, 26, washed=True) != many[-1]
    assert many[0].notes is not many[-1].notes


@BOTH
def test_order_is_that_of_the_parts_in_turn(dataclass: Decorator) -> None:
    @dataclass(frozen=True, slots=True, order=True)
    class Place:
        round: int
        moves: int = 0

    assert sorted([Place(2), Place(1, 5), Place(1)]) == [Place(1), Place(1, 5), Place(2)]
    assert Place(1) <= Place(1) < Place(2) and Place(2) >= Place(2) > Place(1, 9)
    with pytest.raises(TypeError):
        sorted([Place(1), (1, 0)])


PARTS = st.tuples(st.integers(0, 3), st.sampled_from("ab"))


@given(PARTS, PARTS)
def test_equal_where_the_standard_library_says_so(one: tuple[int, str], other: tuple[int, str]) -> None:
    for first, second in ((a, b) for a in POINTS for b in POINTS):
        same = POINTS[first]["standard"](*one) == POINTS[second]["standard"](*other)
        assert (POINTS[first]["ours"](*one) == POINTS[second]["ours"](*other)) is same
        if same:
            assert hash(POINTS[first]["ours"](*one)) == hash(POINTS[second]["ours"](*other))


def _point(dataclass: Decorator) -> Any:
    @dataclass(frozen=True, slots=True)
    class Point:
        number: int
        letter: str

    return Point


POINTS = {
    which: {"standard": _point(dataclasses.dataclass), "ours": _point(values.dataclass)} for which in ("one", "two")
}
