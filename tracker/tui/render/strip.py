"""A strip of the screen, beside a film or on a telephone: NOW, the count and the yarn, and whatever cannot wait."""

from __future__ import annotations

from collections.abc import Sequence

from tracker.session.view import View
from tracker.tui.render.instructions import warning_lines
from tracker.tui.render.now import colour_panel, now_letters, read_on, whole_sentences
from tracker.tui.render.scene import Scene, Tone
from tracker.tui.render.status_lines import keys_in, piece_name, talk_lines
from tracker.tui.render.styled_text import Bit, Line, Look, filled, fit, line, spread, text_of, width_of, wrap

MOST_TALK = 4
"""Lines for what was just said: the letters come back with the next tap."""


def strip(scene: Scene, width: int, height: int) -> list[Line]:
    """The whole screen in so little room: where one is, what to do, and one line of keys."""
    foot = _foot(scene, width)
    room = height - 1 - len(foot)
    middle = _middle(scene, width, room)
    is_untold = bool(scene.view.remark and scene.reads_on) and len(middle) >= room and not _tells(middle, scene)
    return filled([*_top(scene, width, is_untold), *filled(middle, width, room), *foot], width, height)


def _tells(lines: Sequence[Line], scene: Scene) -> bool:
    """Whether what the pattern says here, or the key that reads it, is among the lines."""
    is_read = f"{scene.reads_on} reads" in " ".join(text_of(part) for part in lines)
    return is_read or any(bit.look is Look.FAINT for part in lines for bit in part)


def _top(scene: Scene, width: int, is_untold: bool) -> list[Line]:
    """Where one is; with the key that reads what the pattern says here, where that is not told below."""
    view = scene.view
    if view.piece_finished and view.stop is None:
        return [
            fit(line(Bit(view.title if width_of(line(view.title)) <= width else piece_name(view), Look.TITLE)), width)
        ]
    count = f"{view.stitch:,}" + (f"/{view.expected:,}" if view.expected is not None else "")
    colour = scene.ink.get(view.colour_key, "")
    yarn = line(Bit("██ ", Look.PLAIN, colour) if colour else "", Bit(view.colour_key[:2], Look.STRONG))
    left = line(Bit(view.round_label, Look.TITLE), "  ", Bit(count, Look.STRONG))
    if is_untold:
        note = line(*left, "  ", Bit(scene.reads_on, Look.KEY), " note")
        left = note if width_of(note) + width_of(yarn) < width else left
    return [spread(left, yarn, width) if width_of(left) + width_of(yarn) < width else fit(left, width)]


def _foot(scene: Scene, width: int) -> list[Line]:
    """What is typed or was said, in place of the keys."""
    talk = talk_lines(scene, width, MOST_TALK)
    if talk != [()] and (
        scene.entry is not None or scene.tone is not Tone.QUIET or scene.trouble or len(talk) < MOST_TALK
    ):
        return talk[-MOST_TALK:]
    return list(keys_in(scene.keys, width, 1))


def _middle(scene: Scene, width: int, room: int) -> list[Line]:
    view = scene.view
    if scene.looked_at is not None:
        looked_at = scene.looked_at
        head = line(Bit(f"looking at {looked_at.label}", Look.KEY))
        text = wrap([Bit(" ".join(looked_at.text.split()))], width)
        if len(text) < room:
            return [head, *text]
        return [head, line(f"{looked_at.leaves:,} stitches" if looked_at.leaves is not None else "a long round")]
    if view.unanswered is not None:
        return list(warning_lines(scene, width, room, has_letters=False))
    if view.piece_finished and view.stop is None:
        lines = whole_sentences(view.now, width, room, scene.reads_on, Look.STRONG)
        for part in scene.just_made:
            more = wrap([Bit(part)], width)
            lines += more if len(lines) + len(more) <= room else []
        return lines
    panel = colour_panel(scene, width)
    # On a strip the large letters come first, as they are read from afar; words only take what room is left.
    letters = now_letters(scene, width, room - len(panel), 1.0) if room > len(panel) else ()
    if panel:
        small = wrap([Bit(view.letters.upper(), Look.STRONG)], width)
        if len(panel) + len(letters or small) > room and view.colour_event:
            event = view.colour_event
            panel = tuple(
                line(Bit(f" {part} ".ljust(width), Look.FILLED, scene.yarns.get(event.key, "")))
                for part in _short_event(event.key, event.title, width - 2)
            )
        letters = now_letters(scene, width, room - len(panel), 1.0) or tuple(small)
    elif view.remark:  # what the pattern says here has a line, if NOW stays large
        smaller = now_letters(scene, width, room - 1, 1.0)
        letters = smaller if _are_large(smaller) or not _are_large(letters) else letters
    lines = [*panel, *letters]
    extras = [_count_question(view, width)]
    if view.stop or view.tap is None or not _are_large(letters):
        extras.append(wrap([Bit(view.now, Look.STRONG)], width))
    extras.append(wrap([Bit(f"! as written: {view.doubt}", Look.STRONG)], width, "  ") if view.doubt else [])
    for extra in extras:
        if len(lines) + len(extra) <= room:
            lines += extra
    if view.remark and not view.stop and len(lines) < room:
        lines += whole_sentences(view.remark, width, room - len(lines), scene.reads_on) or [read_on(scene, width)]
    return lines


def _are_large(letters: Sequence[Line]) -> bool:
    return any(not set(text_of(part)) - set("█▀▄ ") for part in letters)


def _count_question(view: View, width: int) -> list[Line]:
    """The question for a count: by the round alone where its copy has no room."""
    if not view.asks_count:
        return []
    names = (view.count_of, view.in_hand.round_label if view.in_hand else "")
    questions = [line(Bit(f"count {name}", Look.KEY)) for name in (*names, "it")]
    return [next((question for question in questions if width_of(question) <= width), questions[-1])]


def _short_event(key: str, title: str, width: int) -> list[str]:
    words = f"{key}: {title}, with the last loop" if title.startswith("change") else f"{key}: {title}"
    return ["".join(bit.text for bit in part) for part in wrap([Bit(words)], width)]
