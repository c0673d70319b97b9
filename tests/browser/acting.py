"""What people do in the browser, as one would say it; nothing here touches the database except to
know what a hire who has learned would know: which answer is right."""

import re
from typing import Any

import pypdfium2
import zxingcpp
from playwright.sync_api import Page, expect

from assessments.measures.quiz import ItemAsked, ItemKind
from assessments.models import Item
from tests.browser.conftest import Visit

PASSWORD = "under-the-pier-at-six"


def press(visit: Visit, name: str, **kwargs: Any) -> None:
    """Press a button or follow a link of this name in the page, then look the new page over."""
    main = visit.page.get_by_role("main")
    target = main.get_by_role("button", name=name, **kwargs).or_(
        main.get_by_role("link", name=name, **kwargs)
    )
    target.first.click()
    visit.page.wait_for_load_state("load")
    visit.check()


def go(visit: Visit, room: str) -> None:
    """To one of the rooms that the house always shows."""
    visit.page.get_by_role("navigation").get_by_role("link", name=room, exact=True).click()
    visit.page.wait_for_load_state("load")
    visit.check()


def open_house(visit: Visit, name: str, owner: str) -> None:
    page = visit.page
    page.goto("/")
    visit.check()
    page.get_by_label("Name of the house").fill(name)
    page.get_by_label("Country").select_option("us")
    page.get_by_label("Time zone").select_option("Europe/Lisbon")
    page.get_by_label("Your name").fill(owner)
    page.get_by_label("Sign-in name").fill(owner.lower())
    page.get_by_label("Password").fill(PASSWORD)
    press(visit, "Open the house")


def invite(visit: Visit, lines: list[str]) -> dict[str, str]:
    """Links by name, read off the page that shows them once."""
    go(visit, "People")
    visit.page.get_by_label("Who is to come?").fill("\n".join(lines))
    press(visit, "Make links")
    links = {}
    for ticket in visit.page.locator("article.invitation").all():
        name = ticket.get_by_role("heading").inner_text()
        links[name] = ticket.locator("a.address").get_attribute("href") or ""
        assert _decoded(ticket.locator(".qr").screenshot()) == links[name]
    return links


def join(visit: Visit, link: str, sign_in: str) -> None:
    visit.page.goto(link)
    visit.check()
    form = visit.page.locator("form", has=visit.page.locator("input[name=way][value=new]"))
    form.get_by_label("Sign-in name").fill(sign_in)
    form.get_by_label("Password").fill(PASSWORD)
    press(visit, "Join", exact=True)


def answer_quiz(visit: Visit) -> None:
    """Answer item after item as somebody who has learned, until the result is there."""
    page = visit.page
    first = True
    while page.get_by_role("button", name="That's my answer").count():
        if first:
            visit.check()
            first = False
        if asked_on(page).takes_several:
            visit.check()
        answer_right(page)
        with page.expect_navigation():
            page.get_by_role("button", name="That's my answer").click()
        page.wait_for_load_state("load")
    visit.check()


def answer_right(page: Page) -> None:
    """Whatever the question's kind: pick one, tick several, give places, choose each part."""
    asked = asked_on(page)
    given = asked.right_answer
    if isinstance(given, int):
        page.locator(f"input[name=choice][value='{given}']").check()
        return
    for number, choice in enumerate(given):
        match asked.kind:
            case ItemKind.SEVERAL:
                page.locator(f"input[name=choice][value='{choice}']").check()
            case ItemKind.ORDER:
                page.locator(f"select[name=place-{choice}]").select_option(str(number + 1))
            case _:
                page.locator(f"input[name=part-{number}][value='{choice}']").check()


def asked_on(page: Page) -> ItemAsked:
    code = re.search(r"/quiz/([a-z0-9]+)/", page.url)
    assert code, page.url
    position = page.locator("input[name=item]").input_value()
    item = Item.objects.get(quiz__code=code[1], position=int(position))
    return ItemAsked.from_json(item.asked)


def turn_cards(visit: Visit) -> int:
    """Turn every card that is due, missing one aspect of the first; the number of cards."""
    page, turned = visit.page, 0
    while page.locator("details.card").count():
        page.locator("details.card summary").click()
        if turned == 0:
            visit.check()
            page.locator(".step").first.click()
        with page.expect_navigation():
            page.get_by_role("button", name="Next", exact=True).click()
        page.wait_for_load_state("load")
        turned += 1
        assert turned < 40, "the cards don't end"
    visit.check()
    return turned


def help_was(page: Page, level: str, number: int = 0) -> None:
    """Say how much help there was and that it was stock; nothing goes on record without."""
    page.get_by_role("radio", name=level, exact=True).nth(number).check()
    page.get_by_role("radio", name="stock", exact=True).check()


def watch(visit: Visit, hire: str, drink: str, *, off: str = "") -> None:
    """Watch a build with the clock running; tap what went wrong; put it on record."""
    page = visit.page
    go(visit, "Watch")
    press(visit, hire)
    press(visit, drink)
    page.get_by_role("button", name="Start").click()
    page.wait_for_timeout(1100)
    page.get_by_role("button", name="Stop").click()
    if off:
        page.locator(".step", has_text=off).first.click()
    help_was(page, "unprompted")
    press(visit, "Put on record")
    # a build of a second is doubted before it is sealed
    page.locator(".choice", has_text="It is so").click()
    press(visit, "Put on record")


def qr_of(pdf: bytes) -> str:
    """The address in the one QR code of a PDF, read from its picture."""
    [page] = pypdfium2.PdfDocument(pdf)
    [code] = zxingcpp.read_barcodes(page.render(scale=3).to_pil())
    return code.text


def _decoded(png: bytes) -> str:
    import io

    from PIL import Image

    [code] = zxingcpp.read_barcodes(Image.open(io.BytesIO(png)))
    return code.text


def sees(visit: Visit, *words: str) -> None:
    for said in words:
        expect(visit.page.get_by_role("main")).to_contain_text(said)
