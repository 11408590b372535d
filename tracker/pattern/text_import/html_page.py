"""A saved web page to its text: the article, without menus, comments, scripts and what is hidden."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from tracker.pattern.text_import.saved_page import MISSING, UnreadablePage
from tracker.pattern.text_import.table_rows import joined_cells

if TYPE_CHECKING:
    from bs4 import Tag

MAX_MARKUP = 3_000_000
"""Characters of markup that are looked at, once scripts and styles are out; an article has about 100,000."""

_UNSEEN = re.compile(r"<(script|style|svg|noscript|template|iframe|object|math)\b.*?</\1\s*>|<!--.*?-->", re.I | re.S)
_DATA = re.compile(r"data:[a-z]+/[^\"'\s>]{200,}", re.I)
_DROPPED = (
    "script style svg noscript template iframe object embed form button select input textarea label nav footer aside "
    "dialog video audio canvas del s strike head"
).split()
_NOT_ARTICLE = re.compile(
    r"(?:^|[\s_-])(?:comments?|commentlist|respond|reply|sidebar|menu|nav|navbar|navigation|breadcrumbs?|share|sharing|"
    r"sharedaddy|social|related|widget|cookie|consent|banner|newsletter|subscribe|advert|ads?|promo|popup|modal|"
    r"pagination|footer|masthead|site-header|screen-reader-text|skip-link|author-bio|tags?-links|toolbar)(?:$|[\s_-])",
    re.I,
)
_ARTICLE = re.compile(
    r"\b(?:entry|post|article|page|recipe)[_-](?:content|body|text)\b|articleBody|^content$|^main$",
    re.I,
)
_ROUND = re.compile(r"\b(?:rnds?|rounds?|rows?|r)\.?\s*\d|\b\d+(?:st|nd|rd|th)\s+(?:rnd|round|row)\b", re.I)
_BLOCKS = frozenset(
    (
        "p div section article main header h1 h2 h3 h4 h5 h6 ul ol li dl dt dd table thead tbody tfoot tr blockquote "
        "pre "
        "figure figcaption hr address details summary center body html"
    ).split()
)
_SET_APART = frozenset("p h1 h2 h3 h4 h5 h6 ul ol dl table blockquote pre section article".split())


def html_text(markup: str) -> str:
    """The text of the article, a line for each block, item and row of a table. Raises `UnreadablePage`."""
    try:
        from bs4 import BeautifulSoup
    except ImportError:
        raise UnreadablePage(MISSING.format(what="a saved web page")) from None
    slim = _DATA.sub("", _UNSEEN.sub(" ", markup))
    if len(slim) > MAX_MARKUP:
        raise UnreadablePage(f"the page has more than {MAX_MARKUP:,} characters of markup: save the article alone")
    soup = BeautifulSoup(slim, "html.parser")
    for tag in soup.find_all(_is_left_out):
        tag.decompose()
    text = _text_of(_article(soup))
    if not text.strip():
        raise UnreadablePage("the page holds no text: is the pattern in its pictures?")
    return text


def _is_left_out(tag: Tag) -> bool:
    """Whether nothing of the tag belongs to the article."""
    if tag.name in _DROPPED:
        return True
    if tag.name in ("body", "html", "main", "article"):
        return False
    if tag.has_attr("hidden") or tag.get("aria-hidden") == "true":
        return True
    if re.search(r"display\s*:\s*none", str(tag.get("style") or ""), re.I):
        return True
    return bool(_NOT_ARTICLE.search(_names(tag)))


def _names(tag: Tag) -> str:
    classes = tag.get("class") or ()
    words = [classes] if isinstance(classes, str) else list(classes)
    return " ".join((*words, str(tag.get("id") or ""), str(tag.get("role") or "")))


def _article(soup: Any) -> Tag:
    """The part of the page with the pattern: of what is marked as an article the one with most rounds and text."""
    marked = soup.find_all(lambda tag: tag.name in ("article", "main") or bool(_ARTICLE.search(_marks(tag))))
    body: Tag = soup.body or soup
    whole = len(_ROUND.findall(body.get_text(" ")))
    best, most = body, (0, 0)
    for tag in marked[:_MOST_MARKED]:
        text = tag.get_text(" ")
        weight = (len(_ROUND.findall(text)), -len(text))
        if weight[0] * 2 > whole and weight > most:
            best, most = tag, weight  # of those with as many rounds, the one with the least around them
    return best if most[0] or not marked else max(marked[:_MOST_MARKED], key=lambda tag: len(tag.get_text()))


# Tags that may be the article; the one that is stands among the first.
_MOST_MARKED = 50


def _marks(tag: Tag) -> str:
    return f"{_names(tag)} {tag.get('itemprop') or ''}"


def _text_of(article: Tag) -> str:
    lines: list[str] = [""]
    for part in _parts(article):
        if part == "\n":
            if lines[-1].strip():
                lines.append("")
        elif part == "\n\n":
            if lines[-1].strip():
                lines += ["", ""]
            elif len(lines) > 1 and lines[-2].strip():
                lines.append("")
        else:
            lines[-1] += part
    return "\n".join(" ".join(line.split()) for line in lines).strip("\n") + "\n"


def _parts(article: Tag) -> Iterator[str]:
    """The text in its order, with a line end around every block and a blank line around those set apart.

    The tree is walked with a stack of its own: a page may nest its tags a hundred thousand deep.
    """
    stack: list[Any] = [article]
    while stack:
        node = stack.pop()
        if isinstance(node, str) and type(node).__name__ not in ("NavigableString",):
            if not hasattr(node, "output_ready"):
                yield node
            continue
        if not hasattr(node, "children"):
            yield str(node) if "\n" not in node else re.sub(r"\s+", " ", str(node))
            continue
        ends = "\n\n" if node.name in _SET_APART else "\n" if node.name in _BLOCKS else ""
        if node.name == "br":
            yield "\n"
        elif node.name == "tr":
            yield "\n"
            yield _row(node)
            yield "\n"
        elif node.name == "pre":
            yield "\n\n"
            for line in node.get_text().split("\n"):
                yield line
                yield "\n" if line.strip() else "\n\n"
        else:
            if ends:
                yield ends
                stack.append(ends)
            if node.name == "li":
                yield _bullet(node)
            stack.extend(reversed(list(node.children)))


def _bullet(item: Tag) -> str:
    """The number of an item of a numbered list, or a dash."""
    if item.parent is None or item.parent.name != "ol":
        return "- "
    begun = str(item.parent.get("start") or "1")
    # A list does not begin at ten thousand.
    first = int(begun) if begun.isdigit() and len(begun) < 5 else 1
    before = sum(1 for _ in item.find_previous_siblings("li", limit=1_000))
    return f"{first + before}. "


def _row(row: Tag) -> str:
    """A row of a table on one line, its cells between bars; a number alone in the last one is a total."""
    cells = [" ".join(cell.get_text(" ").split()) for cell in row.find_all(["td", "th"], recursive=False)]
    return joined_cells(cells)
