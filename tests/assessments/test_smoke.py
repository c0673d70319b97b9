import pytest
from django.utils import timezone

pytestmark = pytest.mark.django_db


def test_pages(house, nils, tamsin, visit):
    c = visit(nils)
    for path in ("shift/", "cards/", "modules/", "modules/highballs/", "modules/highballs/cards/", "record/"):
        r = c.get(f"/h/{house.slug}/{path}")
        assert r.status_code == 200, path
    t = visit(tamsin)
    for path in ("watch/", f"watch/{nils.code}/", f"watch/{nils.code}/cuba-libre/", "ready/", f"hires/{nils.code}/"):
        r = t.get(f"/h/{house.slug}/{path}")
        assert r.status_code == 200, path
