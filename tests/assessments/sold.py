"""What a house has sold, as tests ask for it."""

from assessments import record_sales, sales
from assessments.sales_in_force import in_force
from recipes.menu import menu_at
from tests.factories.assessments import LATER, menu_of


def summary(member, at=LATER):
    menu = menu_at(member.venue, at)
    return sales.summary(menu, in_force(member.venue, at))


def names(found, place):
    return {c.said: c.quantity for c in found.places[place]}


def tell(by, **told):
    return record_sales.tell_names(by=by, told=told, menu=menu_of(by), at=LATER)
