import pytest

from trueup.lineage.store import Store


@pytest.fixture
def nobody(tmp_path):
    (tmp_path / "home" / ".gitconfig").unlink()


def author(store):
    store.commit({}, "Step", expected_head=store.head())
    return next(store.log()).author


def test_a_bare_machine_has_a_neutral_maker(nobody, folder):
    store = Store.create(folder, {"wardrobe.toml": b"x\n"}, "Start")
    assert author(store) == "trueup maker <maker@localhost>"


def test_the_makers_own_name_is_taken(store):
    assert author(store) == "Mary Tailor <mary@example.org>"


def test_a_name_set_for_this_wardrobe_is_taken(store, git):
    git("config", "user.name", "The Village Theatre")
    assert author(store) == "The Village Theatre <mary@example.org>"


def test_a_name_without_an_address_is_kept(nobody, store, git):
    git("config", "user.name", "Mary")
    assert author(store) == "Mary <maker@localhost>"


def test_the_environment_names_the_maker(store, monkeypatch):
    monkeypatch.setenv("GIT_AUTHOR_NAME", "Anna")
    monkeypatch.setenv("GIT_AUTHOR_EMAIL", "anna@example.org")
    assert author(store) == "Anna <anna@example.org>"
