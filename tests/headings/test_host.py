"""The host, given real distributions: the sound are served, and each of the others is refused by itself, in words."""

import sys
from dataclasses import replace
from importlib.metadata import EntryPoint, entry_points
from textwrap import dedent

import msgspec
import pytest

from pleatwright.contract.openapi import document
from pleatwright.contract.reading import RequestReader
from pleatwright.headings import Heading, HeadingOptions
from pleatwright.headings.contract import ENTRY_POINT_GROUP
from pleatwright.headings.host import RefusedError, find_headings

OWN = tuple(
    sorted(
        point.name
        for point in entry_points(group="pleatwright.headings")
        if point.dist is not None and point.dist.name == "pleatwright"
    )
)

SOUND = """
    import msgspec

    from pleatwright.headings import CONTRACT, Fault, Heading, Impossible, Limits, Outline
    from pleatwright.headings import Pleat, PleatOptions, Shape, fan, hookimpl, inches


    class Tulip(PleatOptions, frozen=True, tag="tulip"):
        pass


    def shape(take_up):
        return Shape(fan(2, take_up / 4, 1.0), take_up / 4, 4)


    def pleat(options, measure):
        take_up, space = Limits(inches("4"), inches("5"), inches("6")), Limits(inches("3"), inches("4"), inches("5"))
        return Pleat(2, "face", "top", 1, inches("4"), take_up, space, shape).with_options(options, measure)


    @hookimpl
    def pleatwright_headings():
        yield Heading(CONTRACT, "Tulip", "Two folds like a tulip.", "Fold and stitch.", Tulip, pleat)
"""


@pytest.fixture
def install(tmp_path, monkeypatch):
    """Install a plugin of one module: a directory on sys.path with the module and its distribution's metadata."""
    modules = []

    def installed(source, *, package="tulips", version="1.0", plugin="tulip"):
        module = f"plugin_{package}_{plugin}".replace("-", "_")
        site = tmp_path / f"{package}-{plugin}"
        metadata = site / f"{package.replace('-', '_')}-{version}.dist-info"
        metadata.mkdir(parents=True)
        (site / f"{module}.py").write_text(dedent(source), encoding="utf-8")
        (metadata / "METADATA").write_text(
            f"Metadata-Version: 2.1\nName: {package}\nVersion: {version}\n", encoding="utf-8"
        )
        (metadata / "entry_points.txt").write_text(f"[{ENTRY_POINT_GROUP}]\n{plugin} = {module}\n", encoding="utf-8")
        monkeypatch.syspath_prepend(site)
        modules.append(module)

    yield installed
    for module in modules:
        sys.modules.pop(module, None)


def changed(old, new):
    assert SOUND.count(old) == 1
    return SOUND.replace(old, new)


def the_refusal(headings):
    (refusal,) = headings.refused
    return refusal


def test_the_styles_of_this_project_are_served_and_none_is_refused():
    headings = find_headings(strict=True)
    assert tuple(headings.installed) == OWN
    assert headings.refused == ()


def test_a_sound_style_of_another_package_is_served_beside_them(install):
    install(SOUND, version="2.3")
    headings = find_headings(strict=True)
    assert tuple(headings.installed) == tuple(sorted((*OWN, "tulip")))
    tulip = headings.installed["tulip"]
    assert (tulip.style, tulip.plugin, tulip.package, tulip.version) == ("tulip", "tulip", "tulips", "2.3")
    assert isinstance(tulip.heading, Heading)


def test_the_options_of_a_new_style_are_decoded_by_its_name(install):
    install(SOUND)
    headings = find_headings()
    options = msgspec.json.decode(b'{"style": "tulip", "buckram_depth": "3 in"}', type=headings.options)
    assert type(options).__name__ == "Tulip"
    assert options.buckram_depth == "3 in"
    assert headings.of(options).package == "tulips"


def test_one_plugin_may_bring_several_styles(install):
    install(
        SOUND
        + """

    class Poppy(PleatOptions, frozen=True, tag="poppy"):
        pass


    @hookimpl
    def pleatwright_headings():
        yield Heading(CONTRACT, "Tulip", "Two folds like a tulip.", "Fold and stitch.", Tulip, pleat)
        yield Heading(CONTRACT, "Poppy", "Two folds like a poppy.", "Fold and stitch.", Poppy, pleat)
"""
    )
    headings = find_headings(strict=True)
    assert tuple(headings.installed) == tuple(sorted((*OWN, "poppy", "tulip")))


TAKE_UP = 'Limits(inches("4"), inches("5"), inches("6"))'
SPACE = 'Limits(inches("3"), inches("4"), inches("5"))'
TULIP = 'class Tulip(PleatOptions, frozen=True, tag="tulip"):\n        pass'
HOOK = "@hookimpl\n    def pleatwright_headings():"
YIELD = 'yield Heading(CONTRACT, "Tulip", "Two folds like a tulip.", "Fold and stitch.", Tulip, pleat)'

UNSOUND = {
    "it raises as it is imported": ("raise RuntimeError('no petals')", ["it raises RuntimeError: no petals"]),
    "it imports what is not there": ("import petals_that_grow_nowhere", ["petals_that_grow_nowhere"]),
    "it is no Python": ("def (", ["it raises SyntaxError"]),
    "it exits as it is imported": ("import sys\nsys.exit(3)", ["it raises SystemExit: 3"]),
    "it raises what is no Exception": (
        "class Gust(BaseException):\n    pass\n\n\nraise Gust('from the west')",
        ["it raises Gust: from the west"],
    ),
    "it exits without a word": ("raise SystemExit", ["it raises SystemExit"]),
    "it exits as it is asked": (changed(YIELD, "raise SystemExit(4)\n        yield"), ["it raises SystemExit: 4"]),
    "it raises as it is asked": (
        changed(YIELD, "raise KeyError('stem')\n        yield"),
        ["it raises KeyError: 'stem'"],
    ),
    "it was written for another contract": (
        changed(YIELD, YIELD.replace("CONTRACT", "CONTRACT + 1")),
        ["it was written for contract 2; this service speaks 1"],
    ),
    "its hook is misspelt": (
        changed("def pleatwright_headings", "def pleatwright_heading"),
        ["pleatwright_heading"],
    ),
    "its hook takes what is not given": (
        changed("def pleatwright_headings()", "def pleatwright_headings(petals)"),
        ["pleatwright_headings", "petals"],
    ),
    "it has no hook": ("PETALS = 6", ["it has no hook named pleatwright_headings marked with hookimpl"]),
    "its hook is not marked": (
        changed(HOOK, "def pleatwright_headings():"),
        ["it has no hook named pleatwright_headings marked with hookimpl"],
    ),
    "its hook yields nothing": (changed(YIELD, "yield from ()"), ["its hook yields no heading"]),
    "its hook yields something else": (changed(YIELD, "yield 'tulip'"), ["its hook yields a str, not a Heading"]),
    "its hook returns a heading bare": (
        changed("yield Heading", "return Heading"),
        ["its hook returns a Heading: yield it"],
    ),
    "it brings a style that is there": (
        changed('tag="tulip"', 'tag="three-fold-pinch"'),
        ["style 'three-fold-pinch' is already brought by plugin three-fold-pinch of pleatwright"],
    ),
    "it brings its style twice": (
        changed(YIELD, f"{YIELD}\n        {YIELD}"),
        ["style 'tulip' is already brought by plugin tulip of tulips 1.0"],
    ),
    "its options have the name of another's": (
        SOUND.replace("Tulip", "ThreeFoldPinch"),
        ["options type 'ThreeFoldPinch' has the same name as one of plugin three-fold-pinch of pleatwright"],
    ),
    "its options have no tag": (changed(', tag="tulip"', ""), ["options type 'Tulip' has no tag"]),
    "its options are of another kind": (
        changed(TULIP, "class Tulip:\n        pass"),
        ["its options are not a subclass of HeadingOptions"],
    ),
    "its options are made, not a type": (
        changed("Tulip, pleat)", "Tulip(), pleat)"),
        ["its options are not a subclass of HeadingOptions"],
    ),
    "its options must be given": (
        changed(TULIP, TULIP.replace("pass", "petals: int\n        stems: int")),
        ["options petals, stems have no default", "a style's name alone must be enough"],
    ),
    "its options let unknown fields by": (
        changed('tag="tulip"', 'tag="tulip", forbid_unknown_fields=False'),
        ["options type 'Tulip' must stay frozen and refuse unknown fields"],
    ),
    "its options have no schema": (
        changed(TULIP, TULIP.replace("pass", "petals: complex = 0j")),
        ["it raises TypeError", "complex"],
    ),
    "its style has a bad name": (
        changed('tag="tulip"', 'tag="Tulip Pleat"'),
        ["style name 'Tulip Pleat' is not small letters and digits joined by hyphens"],
    ),
    "its style's name is too long": (changed('tag="tulip"', f'tag="{"t" * 41}"'), ["style name", "is not"]),
    "its style's name ends in a hyphen": (changed('tag="tulip"', 'tag="tulip-"'), ["style name 'tulip-'"]),
    "its label is no text": (
        changed('"Tulip", "Two folds', '7, "Two folds'),
        ["style 'tulip' has no label, no summary or no line on its making"],
    ),
    "its style has no label": (
        changed('"Tulip", "Two', '" ", "Two'),
        ["style 'tulip' has no label, no summary or no line on its making"],
    ),
    "its shape loses cloth": (
        changed("fan(2, take_up / 4, 1.0)", "fan(2, take_up / 5, 1.0)"),
        ["style 'tulip' loses cloth: 32512 of it has an outline 26009.6 long"],
    ),
    "its shape makes cloth": (
        changed("fan(2, take_up / 4, 1.0)", "fan(3, take_up / 4, 1.0)"),
        ["style 'tulip' makes cloth: 32512 of it has an outline 48768 long"],
    ),
    "its shape loses cloth when large": (
        changed("fan(2, take_up / 4, 1.0)", "fan(2, min(take_up / 4, 11_000), 1.0)"),
        ["style 'tulip' loses cloth: 48768 of it has an outline 44000 long"],
    ),
    "its shape is no number": (
        changed("fan(2, take_up / 4, 1.0)", "Outline().line(float('nan'), 0)"),
        ["style 'tulip' makes cloth", "nan"],
    ),
    "its fold has no depth": (
        changed("1.0), take_up / 4, 4)", "1.0), 0.0, 4)"),
        ["style 'tulip' has a fold of depth 0 "],
    ),
    "its shape is none": (changed("return Shape(", "return ("), ["it raises AttributeError"]),
    "its shape raises": (changed("return Shape(", "return 1 / 0, ("), ["it raises ZeroDivisionError"]),
    "its take-ups do not go up": (
        changed(TAKE_UP, 'Limits(inches("6"), inches("5"), inches("4"))'),
        ["limits go up from more than nothing"],
    ),
    "its spaces start at nothing": (
        changed(SPACE, 'Limits(0, inches("4"), inches("5"))'),
        ["limits go up from more than nothing"],
    ),
    "its take-ups do not go up and nobody looks": (
        changed(TAKE_UP, 'Limits(inches("6"), inches("5"), inches("4"))').replace(
            ".with_options(options, measure)", ""
        ),
        ["style 'tulip', take_up: limits go up from more than nothing"],
    ),
    "its buckram has no depth": (
        changed('"top", 1, inches("4")', '"top", 1, 0').replace(".with_options(options, measure)", ""),
        ["style 'tulip' has buckram_depth 0: a whole number of 1 or more"],
    ),
    "its pleat is none": (changed("return Pleat(2", "return options\n        Pleat(2"), ["makes a Tulip, not a Pleat"]),
    "its default options are refused": (
        changed("return Pleat(2", "raise Impossible(Fault((), 'too few petals'))\n        Pleat(2"),
        ["its default options are refused: too few petals"],
    ),
}


@pytest.mark.parametrize(("source", "reason"), UNSOUND.values(), ids=UNSOUND)
def test_an_unsound_plugin_is_refused_in_words_and_the_others_are_served(install, source, reason):
    install(source)
    install(SOUND.replace("Tulip", "Poppy").replace("tulip", "poppy"), package="zinnias", plugin="poppy")
    headings = find_headings()
    assert tuple(headings.installed) == tuple(sorted((*OWN, "poppy")))
    refusal = the_refusal(headings)
    assert (refusal.plugin, refusal.package, refusal.version) == ("tulip", "tulips", "1.0")
    assert str(refusal).startswith("tulip of tulips 1.0: ")
    for words in reason:
        assert words in refusal.reason


@pytest.mark.parametrize(("source", "reason"), UNSOUND.values(), ids=UNSOUND)
def test_an_unsound_plugin_stops_a_strict_service_with_the_reason(install, source, reason):
    install(source)
    with pytest.raises(RefusedError, match=r"tulip of tulips 1\.0: ") as refused:
        find_headings(strict=True)
    for words in reason:
        assert words in str(refused.value)


def test_every_refusal_is_named_at_once(install):
    install("raise RuntimeError('first')", package="asters", plugin="aster")
    install("raise RuntimeError('second')", package="daisies", plugin="daisy")
    assert [refusal.plugin for refusal in find_headings().refused] == ["aster", "daisy"]
    with pytest.raises(RefusedError, match=r"aster of asters 1\.0.*first.*daisy of daisies 1\.0.*second"):
        find_headings(strict=True)


def test_a_plugin_whose_second_style_is_unsound_brings_neither(install):
    install(changed(YIELD, f"{YIELD}\n        yield 'poppy'"))
    headings = find_headings()
    assert tuple(headings.installed) == OWN
    assert the_refusal(headings).plugin == "tulip"


def test_a_plugin_whose_second_style_is_there_already_brings_neither_and_leaves_the_first_owner(install):
    install(
        changed(YIELD, f'{YIELD}\n        yield Heading(CONTRACT, "Cup", "A cup.", "Fold and stitch.", Cup, pleat)')
        + """

    class Cup(PleatOptions, frozen=True, tag="three-fold-pinch"):
        pass
"""
    )
    headings = find_headings()
    assert tuple(headings.installed) == OWN
    assert headings.installed["three-fold-pinch"].package == "pleatwright"
    assert "already brought" in the_refusal(headings).reason


def test_of_two_plugins_with_one_style_the_first_by_package_is_served(install):
    install(SOUND, package="zinnias")
    install(SOUND.replace("Tulip", "Poppy").replace('tag="poppy"', 'tag="tulip"'), package="asters")
    headings = find_headings()
    assert headings.installed["tulip"].package == "asters"
    refusal = the_refusal(headings)
    assert refusal.package == "zinnias"
    assert refusal.reason == "style 'tulip' is already brought by plugin tulip of asters 1.0"


A_PIN_OF_ITS_OWN = """class Pin(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
        colour: str = "red"


    """
NAMESAKES = {
    "its options": (SOUND.replace("Tulip", "Rod"), {}),
    "a type of its options": (
        changed(TULIP, A_PIN_OF_ITS_OWN + TULIP.replace("pass", "pin: Pin | None = None")),
        {"pin": {"colour": "blue"}},
    ),
}


@pytest.mark.parametrize(("source", "options"), NAMESAKES.values(), ids=NAMESAKES)
def test_a_plugin_with_types_named_like_the_contracts_leaves_the_contract_whole(install, source, options):
    """Such a plugin is refused, or both types are told apart."""
    before = document(find_headings().options)["components"]["schemas"]
    install(source)
    headings = find_headings()
    after = document(headings.options)["components"]["schemas"]
    assert {name: after.get(name) for name in ("Rod", "Pin")} == {name: before[name] for name in ("Rod", "Pin")}
    request = {
        "units": "in",
        "rod": {"width": 120, "return": 3.5},
        "hang": {"carrying_height": 96},
        "fabric": {"width": 54},
        "heading": {"style": "tulip", **options} if "tulip" in headings.installed else {"style": "three-fold-pinch"},
        "fullness": 2,
    }
    assert RequestReader(headings.options).faults("panel", msgspec.json.encode(request)) == []


def test_no_styles_at_all_stop_the_service():
    for strict in (False, True):
        with pytest.raises(RefusedError, match=r"no package brings an entry point in the group pleatwright\.headings"):
            find_headings(strict=strict, found=[])


def test_no_sound_style_stops_the_service_with_the_reasons(install):
    install("raise RuntimeError('no petals')")
    found = [point for point in entry_points(group=ENTRY_POINT_GROUP) if point.name == "tulip"]
    with pytest.raises(RefusedError, match=r"tulip of tulips 1\.0: it raises RuntimeError: no petals"):
        find_headings(found=found)


def test_an_entry_point_without_a_distribution_is_of_an_unknown_package():
    point = EntryPoint("stray", "petals_that_grow_nowhere", ENTRY_POINT_GROUP)
    own = entry_points(group=ENTRY_POINT_GROUP)
    refusal = the_refusal(find_headings(found=[*own, point]))
    assert (refusal.plugin, refusal.package, refusal.version) == ("stray", "unknown", "unknown")


def test_a_style_is_named_by_the_tag_of_its_options():
    for style, installed in find_headings().installed.items():
        options = installed.heading.options()
        assert isinstance(options, HeadingOptions)
        assert installed.style == installed.heading.style == style
        assert find_headings().of(options).style == style


@pytest.mark.parametrize("style", sorted(find_headings().installed))
def test_what_a_style_makes_as_it_comes_is_what_it_makes_when_it_is_asked(style):
    installed = find_headings().installed[style]
    assumed = []

    def measure(value, usual, *field, least=1):
        assert value is None
        assumed.append((field, usual))
        return usual

    made = installed.heading.make(installed.heading.options(), measure)
    # Shapes are functions, perhaps made anew each time: what they draw is the same.
    before, after = installed.as_it_comes.made, replace(made, shape=installed.as_it_comes.made.shape)
    assert before == after
    assert before.shape(*before.piece()) == made.shape(*made.piece())
    assert installed.as_it_comes.assumed == tuple(assumed)
