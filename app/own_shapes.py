"""A person's shapes: the catalog is read once, shown, changed, kept, and placed from."""

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from app.catalog import (
    Catalog,
    CatalogEntry,
    carried_over,
    entry_of,
    keep_catalog,
    kept_when,
    read_catalog,
    with_entry,
)
from app.workbench import Workbench
from shop.words import length_style

if TYPE_CHECKING:
    from app.panels.catalog import CatalogSheet


class OwnShapes:
    """The catalog of the one who works here."""

    def __init__(
        self, bench: Workbench, folder: Path, place: Callable[[CatalogEntry], None]
    ) -> None:
        self._bench, self._folder, self._place = bench, folder, place
        self._catalog: Catalog | None = None
        self._when: tuple[int, int] | None = None
        self.sheet: CatalogSheet | None = None

    @property
    def catalog(self) -> Catalog:
        """The shapes to choose from, read anew when another window has kept some."""
        when = kept_when(self._folder)
        if self._catalog is None or when != self._when:
            self._catalog, self._when = read_catalog(self._folder), when
        return self._catalog

    def show(self) -> None:
        """Show every shape."""
        from app.panels.catalog import CatalogSheet

        bench = self._bench
        style = length_style(bench.session.job)
        self.sheet = sheet = CatalogSheet(self.catalog, style, bench.look, bench.window)
        sheet.finished.connect(bench.window.activateWindow)
        sheet.placed.connect(self._place)
        sheet.changed.connect(self._on_changed)
        sheet.show()

    def keep(self) -> None:
        """Put the chosen opening among the shapes."""
        bench = self._bench
        chosen = bench.chosen_one()
        found = next((o for o in bench.session.job.openings if chosen and o.id == chosen.id), None)
        if found is None:
            bench.notice.say("Choose an opening first: its shape is kept for every job.")
            return
        entry = entry_of(found, self.catalog)
        problem = self._write(with_entry(self.catalog, entry)).problem
        bench.notice.say(problem or f"{entry.name} is kept in your shapes.")

    def _write(self, catalog: Catalog) -> Catalog:
        self._catalog = keep_catalog(self._folder, catalog)
        self._when = kept_when(self._folder)
        return self._catalog

    def _on_changed(self, before: Catalog, after: Catalog) -> None:
        kept = self._write(carried_over(before, after, self.catalog))
        if self.sheet is not None:
            self.sheet.show_kept(kept)
