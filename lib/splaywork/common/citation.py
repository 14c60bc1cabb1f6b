"""How to cite the collection, and the sources that the tests compare its numbers with, as BibTeX."""

from importlib import import_module
from typing import NamedTuple

from .checks import flag
from .text import Table

UNKNOWN = "not known"


class Source(NamedTuple):
    """A source that the tests compare numbers with. A field that isn't known says so; `seen`: how far it was read."""

    key: str
    author: str
    title: str
    edition: str
    publisher: str
    year: str
    place: str  # page, chapter or figure
    seen: str


_SEEN, _PART, _MEMORY = "read in a stored copy", "read in part in a stored copy", "quoted from memory"
_THEOREM, _UNCLEAR = "a theorem", "read in an unclear scan"
_FROM = {_MEMORY: "**from memory**", _THEOREM: "worked out: it is a theorem", _UNCLEAR: "read there, in an unclear scan"}

SOURCES = (
    Source("navy_builder", "US Navy", "Builder 3 \\& 2 (NAVEDTRA 14044)", UNKNOWN, "US Navy", UNKNOWN, "chapter 2", _SEEN),
    Source("army_en0069a", "US Army", "Frame Structures (subcourse EN0069A)", UNKNOWN, "US Army Engineer School", UNKNOWN,
           UNKNOWN, _SEEN),
    Source("army_od1642", "US Army", "Subcourse OD1642", UNKNOWN, "US Army", UNKNOWN, UNKNOWN, _SEEN),
    Source("hodgson_abc", "Hodgson, Fred T.", "ABC of the Steel Square and its Uses", UNKNOWN,
           "Frederick J. Drake \\& Co., Wilmette, Illinois", UNKNOWN, "figures 55--62 and 86--91", _SEEN),
    Source("radford_cyclopedia", "Radford, William A. (editor)",
           "Radford's Cyclopedia of Construction: Carpentry, Building and Architecture", "volume 3",
           "Radford Architectural Company, Chicago", "1909", UNKNOWN, _PART),
    Source("building_trades_pocketbook", UNKNOWN, "The Building Trades Pocketbook", UNKNOWN, UNKNOWN, UNKNOWN,
           "Hopper bevels, figure 25", _SEEN),
    Source("crc_tables", UNKNOWN, "CRC Standard Mathematical Tables", UNKNOWN, "CRC Press", UNKNOWN, "polyhedra", _PART),
    Source("klitzing_polytopes", "Klitzing, Richard", "Polytopes", "a web page", UNKNOWN, UNKNOWN, "rhombic dodecahedron",
           _SEEN),
    Source("euclid_elements", "Euclid", "Elements", UNKNOWN, UNKNOWN, UNKNOWN, "book XIII, proposition 17", _THEOREM),
    Source("chace_rhind", "Chace, Arnold Buffum", "The Rhind Mathematical Papyrus", UNKNOWN, UNKNOWN, "1927",
           "problems 57 and 59", _SEEN),
    Source("moscow_papyrus", "Struve, W. W.", "The Moscow Mathematical Papyrus (Mathematischer Papyrus des Staatlichen "
           "Museums der Schönen Künste in Moskau)", UNKNOWN, "Springer, Berlin", "1930", "problem 14", _MEMORY),
    Source("economic_geology_56", UNKNOWN, "Determination of apparent angles of inclined ...",
           "Economic Geology, volume 56, number 1", UNKNOWN, "1961", "page 204", "its abstract was read"),
    Source("dip_tables", "Compton, R. and Lahee, F. H.", "Tables of apparent dip", UNKNOWN, UNKNOWN, UNKNOWN, UNKNOWN, _MEMORY),
    Source("machinerys_handbook", UNKNOWN, "Machinery's Handbook", "31st edition", "Industrial Press", UNKNOWN, "page 121",
           _UNCLEAR),
    Source("noyes_handwork", "Noyes, William", "Handwork in Wood", UNKNOWN, UNKNOWN, "1910",
           "joint 13, page 155; joint 48, pages 165--167", _SEEN),
    Source("ross_woodwork", "Ross, George A.", "Elementary Course in Woodwork", UNKNOWN, UNKNOWN, "1901", UNKNOWN, _SEEN),
    Source("wood_handbook", "USDA Forest Products Laboratory",
           "Wood Handbook: Wood as an Engineering Material (FPL-GTR-190)", UNKNOWN, UNKNOWN, "2010", "table 13-5", _PART),
    Source("fairham_joints", "Fairham, William", "Woodwork Joints", UNKNOWN, "Evans Brothers, London", UNKNOWN,
           "figures 296--298", "its captions were read"),
)


def cite(sources: bool = True) -> str:
    """BibTeX of this collection, and of the sources that the tests compare its numbers with.

    Parameters
    ----------
    sources : bool
        With the sources, or the collection alone.

    Returns
    -------
    str
        One @misc entry, then one @misc entry for each source. Where something about a source isn't known, its entry says so.

    Raises
    ------
    ValueError
        For anything but True or False.

    >>> import splaywork as sw
    >>> print(sw.cite(sources=False).splitlines()[0])
    @misc{splaywork,
    """
    version = import_module(__package__.partition(".")[0]).__version__
    title = "splaywork: leaning corners for hand-cut joints, taught in Jupyter"
    own = {"author": "{The splaywork contributors}", "title": f"{{{{{title}}}}}", "version": f"{{{version}}}", "year": "{2026}"}
    entries = [_entry("misc", "splaywork", own)]
    for source in SOURCES if flag("choice of sources", sources) else ():
        fields = {name: f"{{{value}}}" for name, value in source._asdict().items() if name not in ("key", "place", "seen")}
        fields["title"] = f"{{{fields['title']}}}"  # names keep their capitals
        entries.append(_entry("misc", source.key, fields | {"note": f"{{Where: {source.place}; {source.seen}}}"}))
    return "\n\n".join(entries) + "\n"


def sources_table() -> Table:
    """The sources that the tests compare the numbers with, one a row, as a table that a page shows.

    Returns
    -------
    Table
        Author, title with its edition, publisher and year, page or figure, and whether the numbers come from it or from
        memory. A dash stands where something isn't known.

    >>> import splaywork as sw
    >>> sw.sources_table().head
    ('author', 'title', 'published', 'page, chapter or figure', 'its numbers')
    """
    def known(*parts):
        return ", ".join(_plain(part) for part in parts if part != UNKNOWN) or "–"

    rows = [(known(source.author), known(source.title, source.edition), known(source.publisher, source.year),
             known(source.place), _FROM.get(source.seen, "read there")) for source in SOURCES]
    return Table(("author", "title", "published", "page, chapter or figure", "its numbers"), rows)


def _plain(text):
    """A field of BibTeX as people read it."""
    return text.replace("\\&", "&").replace("--", "–")


def _entry(kind, key, fields):
    lines = [f"  {name:<9} = {value}," for name, value in fields.items()]
    return "\n".join([f"@{kind}{{{key},", *lines, "}"])
