"""All pieces and copies with how far each is; choosing one goes on with it."""

from __future__ import annotations

from collections.abc import Callable

from tracker.pattern.model import Pattern
from tracker.plural import number_of
from tracker.session.state import BEGINNING, Copy, State, copy_name, is_made, rounds_of
from tracker.session.view_builder import piece_share
from tracker.session.view_words import named_copies, percent
from tracker.tui.commands import name_of
from tracker.tui.pages.page import BACK, CHOOSE, Page
from tracker.tui.palette import Palette
from tracker.tui.render.list_view import Row
from tracker.tui.render.scene import Choice


class PiecesPage(Page):
    """Ends with the `Copy` to go on with. `keys` that are pressed open a page about the chosen one."""

    def __init__(
        self,
        pattern: Pattern,
        state: State,
        palette: Palette,
        keys: tuple[str, ...] = (),
        about: Callable[[Copy], Page] | None = None,
    ) -> None:
        about_choice = (Choice(name_of(keys[0]), "size, yarn"),) if keys and about else ()
        super().__init__("pieces", palette, (*CHOOSE, *about_choice, BACK))
        self._pattern, self._state = pattern, state
        self._keys, self._about = keys, about

    def pressed(self, key: str) -> bool:
        chosen = self.leaf.value
        if key not in self._keys or self._about is None or not isinstance(chosen, Copy):
            return False
        self.app.push_screen(self._about(chosen))
        return True

    def rows(self) -> tuple[Row, ...]:
        return tuple(piece_row(self._pattern, self._state, copy) for copy in named_copies(self._pattern, self._state))

    def on_mount(self) -> None:
        super().on_mount()
        values = [row.value for row in self.leaf.rows]
        if self._state.work.copy in values:
            self.choose(values.index(self._state.work.copy))


def piece_row(pattern: Pattern, state: State, copy: Copy) -> Row:
    mark = "  ← here" if copy == state.work.copy else ""
    return Row(f"{copy_name(pattern, copy)}  {_far(pattern, state, copy)}{mark}", copy)


def _far(pattern: Pattern, state: State, copy: Copy) -> str:
    if is_made(pattern, state.work, copy):
        return "made"
    place = state.work.place_in(copy)
    if place == BEGINNING:
        return "not begun"
    done = percent(piece_share(pattern, state.work, copy))
    return f"{done}, {place.round_index:,} of {number_of(rounds_of(pattern, copy), 'round')} done"
