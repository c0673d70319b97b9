from .invitation import Invitation
from .log import LogEntry, PersonalText
from .membership import Membership
from .password_link import PasswordLink
from .permit import Permit
from .person import Person
from .refusal import Refusal
from .sent_form import SentForm, SignInTry
from .side_work import SideDone, SideTakenBack, SideTask
from .tablet import Pin, PinTry, Tablet
from .venue import Station, Venue

__all__ = [
    "Invitation",
    "LogEntry",
    "Membership",
    "PasswordLink",
    "Permit",
    "Person",
    "PersonalText",
    "Pin",
    "PinTry",
    "Refusal",
    "SentForm",
    "SideDone",
    "SideTakenBack",
    "SideTask",
    "SignInTry",
    "Station",
    "Tablet",
    "Venue",
]
