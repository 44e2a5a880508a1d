"""A person's shapes: the catalog is read once, shown, changed, kept, and placed from."""

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from app.catalog import Catalog, CatalogEntry, entry_of, keep_catalog, read_catalog, with_entry
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
        self.sheet: CatalogSheet | None = None

    @property
    def catalog(self) -> Catalog:
        """The shapes to choose from, read when they are asked for first."""
        if self._catalog is None:
            self._catalog = read_catalog(self._folder)
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
        self._catalog = keep_catalog(self._folder, with_entry(self.catalog, entry))
        bench.notice.say(self._catalog.problem or f"{entry.name} is kept in your shapes.")

    def _on_changed(self, catalog: Catalog) -> None:
        self._catalog = keep_catalog(self._folder, catalog)
        if self.sheet is not None:
            self.sheet.show_kept(self._catalog)
