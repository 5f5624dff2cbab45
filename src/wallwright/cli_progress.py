"""What is shown on a terminal while long work runs; nothing where standard error is no terminal."""

from __future__ import annotations

from collections.abc import Callable, Generator
from contextlib import contextmanager


@contextmanager
def progress(title: str) -> Generator[Callable[[float, str], None]]:
    """A bar on standard error while long work runs; `tell(share, what)` moves it."""
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

    console = Console(stderr=True)
    columns = (
        TextColumn("{task.description}"),
        BarColumn(),
        TextColumn("{task.percentage:>3.0f} %"),
        TimeElapsedColumn(),
    )
    with Progress(*columns, console=console, transient=True, disable=not console.is_terminal) as bar:
        task = bar.add_task(title, total=1.0)
        yield lambda share, what: bar.update(
            task, completed=share, description=f"{title}: {what}" if what else title
        )


@contextmanager
def waiting(title: str) -> Generator[Callable[[str], None]]:
    """The same for work that cannot say how far it is: what it does and how long it has run; `tell(what)` changes the words."""
    from rich.console import Console
    from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

    console = Console(stderr=True)
    columns = (TextColumn("{task.description}"), BarColumn(), TimeElapsedColumn())
    with Progress(*columns, console=console, transient=True, disable=not console.is_terminal) as bar:
        task = bar.add_task(title, total=None)
        yield lambda what: bar.update(task, description=f"{title}: {what}" if what else title)
