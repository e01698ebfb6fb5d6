"""A file followed while its lesson is open: told of when it changes, and not before."""

import asyncio

from limekit.course.following import follow


def test_a_file_that_changes_is_told_of_once_each_time(tmp_path):
    path, told = tmp_path / "log.csv", []
    path.write_text("one")

    async def session():
        task = follow(path, lambda: told.append(path.read_text()), every=0.01)
        for words in ("one and two", "one, two and three"):
            await asyncio.sleep(0.05)
            path.write_text(words)
            while not told or told[-1] != words:
                await asyncio.sleep(0.01)
        await asyncio.sleep(0.05)
        path.unlink()
        await asyncio.sleep(0.05)
        again = follow(path, told.clear, every=0.01)
        await asyncio.sleep(0.02)
        assert task.cancelled()
        again.cancel()

    asyncio.run(asyncio.wait_for(session(), 60.0))
    assert told == ["one and two", "one, two and three"]


def test_where_nothing_runs_nothing_is_followed(tmp_path):
    assert follow(tmp_path / "log.csv", print) is None
