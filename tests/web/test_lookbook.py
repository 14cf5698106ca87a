"""The look-book is for those who build: it is there in DEBUG and nowhere else."""

import pytest
from django.conf import LazySettings
from django.http import Http404
from django.test import RequestFactory

from qrecords.web.lookbook import lookbook, pages


def test_outside_debug_the_look_book_is_not_there(rf: RequestFactory, settings: LazySettings) -> None:
    settings.DEBUG = False
    with pytest.raises(Http404):
        lookbook(rf.get("/"))


def test_in_debug_it_lists_every_page(rf: RequestFactory, settings: LazySettings) -> None:
    settings.DEBUG = True
    listed = lookbook(rf.get("/")).content.decode()
    assert all(f'href="{name}/"' in listed for name in pages())


def test_a_page_can_be_asked_for_on_night_paper(rf: RequestFactory, settings: LazySettings) -> None:
    settings.DEBUG = True
    assert 'data-theme="dark"' in lookbook(rf.get("/", {"theme": "dark"}), "measure").content.decode()


def test_a_page_that_is_not_in_the_book_is_not_found(rf: RequestFactory, settings: LazySettings) -> None:
    settings.DEBUG = True
    with pytest.raises(Http404):
        lookbook(rf.get("/"), "nothing")
