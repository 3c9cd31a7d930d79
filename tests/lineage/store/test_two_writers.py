from trueup.lineage.store import Store

RETRYING = """
    import sys
    from pathlib import Path
    from trueup.lineage.errors import MovedOn
    from trueup.lineage.store import Store
    folder, name = sys.argv[1:]
    with Store.open(Path(folder)) as store:
        for number in range(20):
            while True:
                head = store.head()
                counted = store.read([store.listing(head)["blocks/village.toml"]])
                (old,) = counted.values()
                new = old + f"{name} {number}\\n".encode()
                try:
                    store.commit(
                        {"blocks/village.toml": new}, f"{name} {number}", expected_head=head
                    )
                except MovedOn:
                    continue
                break
"""

HOLDING = """
    import sys
    from pathlib import Path
    from trueup.lineage.store import Store
    folder, name = sys.argv[1:]
    with Store.open(Path(folder)) as store:
        for number in range(20):
            with store.writing():
                head = store.head()
                (old,) = store.read([store.listing(head)["blocks/village.toml"]]).values()
                new = old + f"{name} {number}\\n".encode()
                store.commit({"blocks/village.toml": new}, f"{name} {number}", expected_head=head)
"""


def test_two_writers_never_lose_each_others_steps(store, folder, python, assert_whole):
    writers = [python(RETRYING, folder, "anna"), python(HOLDING, folder, "bert")]
    for writer in writers:
        _, complaint = writer.communicate()
        assert writer.returncode == 0, complaint
    expected = {f"{name} {number}" for name in ("anna", "bert") for number in range(20)}
    lines = assert_whole()["blocks/village.toml"].decode().splitlines()[1:]
    assert len(lines) == 40
    assert set(lines) == expected
    with Store.open(folder) as again:
        assert [commit.subject for commit in again.log()][:-1] == list(reversed(lines))
