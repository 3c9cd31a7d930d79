"""A drawing becomes a block by pointing at its lines: the names and the step are the command's."""

import base64
import tomllib

import pytest
from playwright.sync_api import expect

from tests.cli.commands.begin.drawn import drawn
from tests.lineage.drawings.photographs.rendering import Camera, jpeg, photograph
from tests.lineage.drawings.photographs.tables import bodice_table
from tests.live.steps.live_page import PHONE, steps
from tests.live.steps.test_steps import same
from tests.live.test_trying import on_the_line, press_until_focused
from tests.live.window import hold_back_following
from trueup.lineage.wardrobe import Wardrobe

WAITS = 60_000
DESK = {"viewport": {"width": 1400, "height": 1000}}


@pytest.fixture
def paper(trueup, tmp_path):
    """A drawing by another hand: no line of it has a name."""
    with Wardrobe.open(trueup.folder) as wardrobe:
        draft = wardrobe.evaluator.draft("village")
    file = tmp_path / "paper.svg"
    file.write_bytes(drawn(draft))
    return file


def looked_over(show, file, **how):
    opened = show("trace", **how)
    opened.page.set_input_files("[name=file]", file)
    opened.page.click("text=Look it over")
    opened.page.wait_for_selector(".traced:not([hidden])", timeout=WAITS)
    return opened


def choose(page, words):
    """Choose a line by how it is told, and return its number."""
    option = page.locator(".naming [name=line] option", has_text=words).first
    number = option.get_attribute("value")
    page.select_option(".naming [name=line]", number)
    return number


def wait_until_looked_over(page):
    page.wait_for_selector(".tracing[aria-busy=false]", timeout=WAITS)


def say(page):
    page.click("text=Say so")
    wait_until_looked_over(page)


def names_handed_over(page, to):
    with page.expect_download() as found:
        page.click("text=Hand over the names")
    found.value.save_as(to)
    return found.value.suggested_filename


def record(opened, node):
    opened.page.fill("[name=node]", node)
    opened.page.click("text=Record this block")
    opened.page.wait_for_selector(".meanwhile .command", timeout=WAITS)


def test_a_line_that_was_pointed_at_is_named_as_by_the_command(
    show, trueup, other, paper, tmp_path
):
    before = steps(trueup)
    opened = show("start", **DESK)
    page = opened.page
    page.click("text=Make a block of a drawing")
    page.set_input_files("[name=file]", paper)
    page.click("text=Look it over")
    page.wait_for_selector(".traced:not([hidden])", timeout=WAITS)
    number = choose(page, "front.dart.bust")
    choose(page, "front.neck")
    line = page.locator(f".picked-drawing path[id$='.line-{number}']").first
    line.scroll_into_view_if_needed()
    at = on_the_line(line)
    page.mouse.click(at["x"], at["y"])
    expect(page.locator(".naming [name=line]")).to_have_value(number)
    expect(page.locator(".naming [name=name]")).to_have_value("front.dart.bust")
    page.fill(".naming [name=name]", "front.dart.french")
    say(page)
    expect(page.locator(".yet")).to_have_text("As it stands it can be recorded.")
    opened.require_accessible()
    page.fill("[name=node]", "twin")
    here, there = tmp_path / "here.toml", tmp_path / "twin-names.toml"
    assert names_handed_over(page, here) == there.name
    named = ("--name", f"{number}=front.dart.french")
    other.made("trace", str(paper), "twin", *named, "--write-names", str(there))
    assert here.read_bytes() == there.read_bytes()
    record(opened, "twin")
    other.made("trace", str(paper), "twin", "--names", str(there))
    assert same(trueup, other)
    assert steps(trueup) == before + 1
    assert "trueup trace paper.svg twin --names twin-names.toml" in opened.said


def test_fold_and_seam_are_said_and_taken_back(show, trueup, other, paper, tmp_path):
    opened = looked_over(show, paper, **DESK)
    page = opened.page
    choose(page, "front.centre (fold)")
    assert page.is_checked(".naming [name=fold]")
    page.uncheck(".naming [name=fold]")
    say(page)
    choose(page, "front.shoulder")
    assert page.input_value(".naming [name=mate]") == "back.shoulder"
    page.fill(".naming [name=mate]", "")
    say(page)
    choose(page, "front.side")
    page.fill(".naming [name=ease]", "0 to 0.2")
    say(page)
    choose(page, "back.neck")
    page.fill(".naming [name=name]", "back.collar")
    say(page)
    page.click("text=Take that back")
    wait_until_looked_over(page)
    expect(page.locator(".naming [name=line] option", has_text="back.collar")).to_have_count(0)
    file = tmp_path / "twin-names.toml"
    names_handed_over(page, file)
    told = tomllib.loads(file.read_text("utf-8"))
    front = next(each for each in told["piece"] if each["name"] == "front")
    assert "fold" not in front
    assert front["free"] == ["shoulder"]
    seams = {each["name"]: each for each in told["seam"]}
    assert "shoulder-seam" not in seams
    assert seams["side-seam"] == {
        "name": "side-seam", "side": "front.side", "mate": "back.side", "ease": "0mm to 2mm"
    }  # fmt: skip
    assert "armhole-seam" in seams
    record(opened, "twin")
    other.made("trace", str(paper), "twin", "--names", str(file))
    assert same(trueup, other)


def test_with_the_keyboard_alone_on_a_phone(show, trueup, other, paper, tmp_path):
    opened = looked_over(show, paper, **PHONE)
    page = opened.page
    opened.require_accessible()
    opened.require_no_sideways_scrolling()
    number = choose(page, "back.dart.waist,")
    press_until_focused(page, page.locator(".naming [name=name]"))
    page.keyboard.press("Control+A")
    page.keyboard.type("back.dart.middle")
    page.keyboard.press("Enter")
    wait_until_looked_over(page)
    expect(page.locator(".naming [name=line] option", has_text="back.dart.middle")).to_have_count(1)
    press_until_focused(page, page.locator("[name=node]"))
    page.keyboard.type("twin")
    page.keyboard.press("Enter")
    page.wait_for_selector(".meanwhile .command", timeout=WAITS)
    names = tmp_path / "twin-names.toml"
    named = ("--name", f"{number}=back.dart.middle")
    other.made("trace", str(paper), "twin", *named, "--write-names", str(names))
    other.made("trace", str(paper), "twin", "--names", str(names))
    assert same(trueup, other)


def test_a_drawing_that_says_what_its_lines_are_is_recorded_as_it_says(
    show, trueup, other, tmp_path
):
    file = tmp_path / "own.svg"
    trueup.made("export", "own", str(file))
    opened = looked_over(show, file)
    assert "says itself" in opened.page.inner_text(".itself")
    record(opened, "again")
    other.made("trace", str(file), "again")
    assert same(trueup, other)
    assert "trueup trace own.svg again" in opened.said
    assert "--names" not in opened.said


def test_the_letters_of_the_drawing_are_never_under_eleven_pixels(show, paper):
    for how in (DESK, PHONE):
        page = looked_over(show, paper, **how).page
        sizes = page.evaluate(
            """() => Array.from(document.querySelectorAll('.picked-drawing text'), (text) => {
              const drawn = text.getScreenCTM();
              return parseFloat(getComputedStyle(text).fontSize) * Math.hypot(drawn.a, drawn.b);
            })"""
        )
        assert len(sizes) > 20
        assert min(sizes) >= 11


def test_what_cannot_be_said_is_refused_and_what_was_said_stays(show, trueup, paper):
    before = trueup.contents()
    page = looked_over(show, paper).page
    number = choose(page, "front.neck")
    page.fill(".naming [name=name]", "back.neck")
    say(page)
    refused = page.wait_for_selector(".naming .refused:not(:empty)").inner_text()
    said = trueup("trace", str(paper), "twin", "--name", f"{number}=back.neck", "--as-proposed").err
    assert refused.split(" cannot be traced: ")[1] in " ".join(said.split())
    assert page.locator(".naming [name=line] option", has_text="front.neck").count() == 1
    page.fill("[name=node]", "village")
    page.click("text=Record this block")
    refused = page.wait_for_selector(".recorded-as .refused:not(:empty)").inner_text()
    assert "village" in refused
    assert trueup.contents() == before


def asked(file, **more):
    content = base64.b64encode(file.read_bytes()).decode()
    return {"source": file.name, "content": content, **more}


def test_what_is_no_drawing_is_refused_in_the_command_s_sentence(live, trueup, tmp_path):
    for name, content in (
        ("empty.svg", b""), ("words.svg", b"words"), ("bomb.svg", b"<!DOCTYPE x []><svg/>"),
        ("a.dxf", b"0\nSECTION\n"), ("photo.jpg", b"\xff\xd8\xff no photo"),
    ):  # fmt: skip
        file = tmp_path / name
        file.write_bytes(content or b" ")
        refused = live.ask("trace-look", **asked(file)).line["refused"]
        said = trueup("trace", str(file), "twin", "--as-proposed").err
        assert refused.split(" cannot be ", 1)[1] in " ".join(said.split()), name


def test_a_drawing_that_is_not_at_hand_is_asked_for_and_no_path_is_taken(live, trueup, paper):
    assert live.ask("trace-look", source="paper.svg", known="0" * 64).line == {"again": True}
    assert live.ask("trace-look", source=str(paper)).line == {"again": True}
    version = live.ask("view", address="start").line["version"]
    told = live.ask("trace", source=str(paper), node="twin", version=version).line
    assert "not at hand" in told["refused"]
    looked = live.ask("trace-look", **asked(paper, source="../../secret/paper.svg")).line
    told = {"source": "../../secret/paper.svg", "known": looked["known"], "text": looked["text"]}
    answer = live.ask("trace", **told, node="twin", version=version).line
    assert answer["subject"] == "Trace the block twin from paper.svg"
    assert "secret" not in "".join(map(str, trueup.contents().values()))


def test_recorded_on_the_wardrobe_as_it_is_with_nothing_of_the_names_lost(show, trueup, paper):
    page = looked_over(show, paper).page
    choose(page, "front.dart.bust")
    page.fill(".naming [name=name]", "front.dart.french")
    say(page)
    hold_back_following(page)
    page.unroute("**/now")
    trueup.made("derive", "gown", "--from", "village")
    page.fill("[name=node]", "twin")
    page.click("text=Record this block")
    page.wait_for_selector(".recorded-as .refused:not(:empty)")
    assert "gown" in page.inner_text(".recorded-as .refused")
    page.click("text=Record this block")
    page.wait_for_selector(".meanwhile .command", timeout=WAITS)
    block = (trueup.folder / "blocks" / "twin.svg").read_text("utf-8")
    assert "front.dart.french" in block


def test_what_is_said_quickly_one_after_the_other_is_all_kept(show, trueup, paper, tmp_path):
    page = looked_over(show, paper).page
    page.evaluate(
        """() => {
          const form = document.querySelector('.naming');
          const { line, name } = form.elements;
          for (const [was, now] of [
            ['front.dart.bust', 'front.dart.french'], ['back.dart.shoulder', 'back.dart.blade'],
          ]) {
            line.value = Array.from(line.options).find((each) => each.text.includes(was)).value;
            line.dispatchEvent(new Event('change'));
            name.value = now;
            form.requestSubmit();
          }
        }"""
    )
    wait_until_looked_over(page)
    file = tmp_path / "names.toml"
    names_handed_over(page, file)
    told = tomllib.loads(file.read_text("utf-8"))
    darts = {each["name"]: set(each.get("darts", {})) for each in told["piece"]}
    assert "french" in darts["front"]
    assert "blade" in darts["back"]


def test_a_photograph_is_measured_named_and_recorded_as_by_the_command(
    live, trueup, other, tmp_path
):
    camera = Camera(2400, 1800, high=900, focal=0.72, leans=(3, -2), radial=(0.03, -0.01))
    photo = tmp_path / "front.jpg"
    photo.write_bytes(jpeg(photograph(bodice_table(camera)[0])))
    said = {"measures": "front.centre=370mm", "names": {"piece-1": "front"}}
    looked = live.ask("trace-look", **asked(photo, **said)).line
    assert "Size: measured by 8 strips of the frame" in looked["html"]
    again = live.ask("trace-look", source=photo.name, known=looked["known"], **said).line
    assert again == looked
    names = tmp_path / "card-names.toml"
    words = ("trace", str(photo), "card", "--measure", "front.centre=370mm")
    other.made(*words, "--name", "piece-1=front", "--write-names", str(names))
    assert looked["text"] == names.read_text("utf-8")
    version = live.ask("view", address="start").line["version"]
    told = {"source": photo.name, "known": looked["known"], "text": looked["text"]}
    measured = {"measures": "front.centre=370mm"}
    answer = live.ask("trace", **told, **measured, node="card", version=version).line
    assert answer["command"] == (
        "trueup trace front.jpg card --measure front.centre=370mm --names card-names.toml"
    )
    other.made(*words, "--names", str(names))
    assert same(trueup, other)


def test_what_was_measured_on_paper_holds_when_its_line_is_called_otherwise(
    show, trueup, other, paper, tmp_path
):
    neck = trueup.made("measure", "village", "--json").document["measures"]["front.neck"]
    opened = show("trace", **DESK)
    page = opened.page
    page.set_input_files("[name=file]", paper)
    page.click("text=Its size, and which way up it lies")
    page.fill("[name=measures]", f"front.neck={neck:.2f}mm")
    page.click("text=Look it over")
    page.wait_for_selector(".traced:not([hidden])", timeout=WAITS)
    choose(page, "front.neck")
    page.fill(".naming [name=name]", "bodice.neck")
    say(page)
    assert page.inner_text(".naming .refused") == ""
    assert page.locator(".naming [name=line] option", has_text="bodice.side").count() == 1
    page.fill("[name=node]", "twin")
    names = tmp_path / "twin-names.toml"
    names_handed_over(page, names)
    record(opened, "twin")
    measured = f"bodice.neck={neck:.2f}mm"
    assert f"--measure {measured}" in opened.said
    words = ("trace", str(paper), "twin", "--measure", measured)
    other.made(*words, "--names", str(names))
    assert same(trueup, other)


def test_what_is_written_in_a_drawing_and_of_its_file_is_words_and_nothing_else(
    show, paper, tmp_path
):
    evil = "&quot;&gt;&lt;img src=x onerror=alert(1)&gt;&lt;b&gt;"
    drawing = paper.read_text("utf-8")
    assert 'inkscape:label="Front"' in drawing
    file = tmp_path / "<b>paper.svg"
    file.write_text(drawing.replace('inkscape:label="Front"', f'inkscape:label="{evil}"'), "utf-8")
    opened = looked_over(show, file)
    page = opened.page
    page.click("text=Every line, piece and seam")
    assert page.locator(".traced img, .traced b").count() == 0
    page.fill(".naming [name=name]", "<img src=x onerror=alert(1)>.neck")
    say(page)
    assert page.locator(".traced img").count() == 0
    assert "<img" in page.inner_text(".naming .refused")
