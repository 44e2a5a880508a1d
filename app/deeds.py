"""Deeds: what every action of app/actions.py does, one method each."""

from collections.abc import Callable, Sequence
from pathlib import Path

from msgspec.structs import replace
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QApplication

from app import things
from app.actions import ACTIONS, Action
from app.canvas.fold import Sides
from app.catalog import CatalogEntry
from app.gestures.copying import copy_of
from app.gestures.gesture import Gesture
from app.gestures.openings import PlaceOpening
from app.gestures.places import ROOM_ONLY, box_of, first_place, first_place_of
from app.gestures.tools import tool
from app.grouping import grouped
from app.menus import Menus
from app.own_shapes import OwnShapes
from app.panels.answer_box import AnswerBox
from app.paper_templates import PaperTemplates
from app.planning import Planning
from app.stages import Stage
from app.suggesting import Suggesting
from app.telling import around, finding_box, stage_of
from app.templates import Templates
from app.things.around import corners_round, top_of, walk
from app.typing_over import IN_MOLDS
from app.workbench import BOARD_STAGES, Workbench
from geometry.naming import EdgeRef, Id
from geometry.picking import Subject
from geometry.templates import DrilledHole, TemplateShape
from geometry.turned_shapes import mirrored_shape, turned_shape
from shop import edits
from shop.aligning import AligningError, lined_up, one_behind_another, spread_out
from shop.aligning_islands import islands_spread_out, middles_lined_up, sides_lined_up
from shop.anchors import center_words, centers
from shop.copies import NO_COPY
from shop.findings import Finding, findings
from shop.job import Construction, Job
from shop.plan import tops
from shop.proposed_runs import proposal_words, proposed_runs
from shop.remedies import Remedy, remedies
from shop.spreading_cabinets import cabinets_spread_out

FIRST_KINDS: dict[Stage, tuple[str, ...]] = {
    "Openings": ("opening", "inset"),
    "Seams": ("seam",),
    "Molds": ("piece",),
}
"""What is chosen first in a stage, if there is any."""


class Deeds:
    """Carries out the actions on a workbench, and owns the menus that list them."""

    def __init__(self, bench: Workbench) -> None:
        self.bench, self.session, self.hand = bench, bench.session, bench.hand
        self.files, self.canvas, self.typing = bench.files, bench.canvas, bench.typing
        files = bench.files
        self.suggesting = Suggesting(bench, bench.layouts)
        self.paper = PaperTemplates(bench, self._place_template)
        self.templates = Templates(bench, self._place_template)
        self.planning = Planning(bench, bench.sheets.stock)
        self.shapes = OwnShapes(bench, files.settings, self._place_shape)
        self._seen: tuple[Finding, ...] = ()
        self.menus = Menus(
            bench.window,
            self.call,
            {"sample": files.fill_samples, "recent": files.fill_recent},
        )
        header = bench.header
        header.stage_asked.connect(self.session.go_to)
        header.findings_asked.connect(self.next_finding)
        header.write_asked.connect(self.write_shop_files)
        header.job_asked.connect(self.show_job)
        bench.tools.asked.connect(self._on_tool_row)
        bench.to_look_at.show_asked.connect(lambda found: self.show_finding(*found))
        bench.to_look_at.remedy_asked.connect(
            lambda remedy: self.session.apply(remedy.edit, *remedy.also)
        )
        bench.molds.piece_asked.connect(self._on_mold_piece)
        bench.molds.turning_asked.connect(self._on_turning)
        bench.molds.faces.changed.connect(bench.show_mold)
        bench.molds.sides_asked.connect(self._on_sides)
        bench.sheets.write_asked.connect(self.write_shop_files)
        bench.sheets.cancel_asked.connect(self.files.stop_writing)
        bench.sheets.preview_asked.connect(self.preview_plot)
        bench.sheets.print_asked.connect(self.print_plot)

    def call(self, action: Action) -> None:
        """Carry out an action."""
        callback = getattr(self, action.callback)
        if action.argument:
            callback(action.argument)
        else:
            callback()

    def _on_tool_row(self, action_id: str) -> None:
        self.call(next(action for action in ACTIONS if action.id == action_id))

    def start_tool(self, name: str) -> None:
        """Take up a tool; the one at work is put down by asking for it again."""
        if self.hand.tool == name:
            self.hand.cancel()
            return
        self.typing.keep_typed()
        stage = next(a.stage for a in ACTIONS if a.id == name)
        if stage is not None:
            self.session.go_to(stage)
        self._take_up(
            tool(self.session.job, name, self.session.chosen, self.shapes.catalog),
            name,
        )

    def _take_up(self, gesture: Gesture, name: str) -> None:
        self.session.choose()
        self.hand.begin(gesture, name)
        self.canvas.empty_words.hide()
        self.bench.take_keys()
        if self.hand.doing.at:
            self.bench.entry.focus_first()

    def type_over(self) -> None:
        """Open the first length of the drawing; Tab goes on from there."""
        self.typing.keep_typed()
        self.hand.cancel()
        if self.session.stage not in BOARD_STAGES:
            self.bench.notice.say(IN_MOLDS)
        elif not self.bench.over.begin():
            self.bench.notice.say("No length is in sight: press Home to see all of the drawing.")

    def pick_template(self) -> None:
        """Ask for a maker's drawing and show its outlines; one being placed is put down."""
        if self.hand.tool == "template":
            self.hand.cancel()
            return
        self.typing.keep_typed()
        self.hand.cancel()
        self.session.go_to("Openings")
        path = self.files.ask_template()
        if path is not None:
            self.show_template(path)

    def show_template(self, path: Path) -> None:
        """Show the outlines in a maker's drawing; say why if there are none."""
        self.templates.show(path)

    def _place_template(self, shape: TemplateShape, holes: tuple[DrilledHole, ...] = ()) -> None:
        job = self.session.job
        begin = first_place(job, self.bench.chosen_one())
        entry = CatalogEntry("template", "Template", "sink", "sink", shape)
        self._take_up(PlaceOpening(job, entry, begin, holes), "template")

    def type_template(self) -> None:
        """Take the offsets of a paper template, from two straight boards."""
        self.typing.keep_typed()
        self.hand.cancel()
        self.session.go_to("Openings")
        self.paper.show()

    def show_shapes(self) -> None:
        """Show the catalog of shapes that openings start with."""
        self.typing.keep_typed()
        self.hand.cancel()
        self.session.go_to("Openings")
        self.shapes.show()

    def keep_shape(self) -> None:
        """Keep the chosen opening's shape for every job."""
        self.shapes.keep()

    def _place_shape(self, entry: CatalogEntry) -> None:
        job = self.session.job
        begin = first_place_of(job, self.bench.chosen_one(), entry.id, entry.use)
        self._take_up(PlaceOpening(job, entry, begin), entry.id)

    def center_opening(self) -> None:
        """Center the chosen opening on a cabinet, a window or a sink; again, on the next one."""
        chosen = self.bench.chosen_one()
        job = self.session.job
        found = next((o for o in job.openings if chosen and o.id == chosen.id), None)
        offers = () if found is None else centers(job, found.id)
        if found is None or not offers:
            self.bench.notice.say("There is no cabinet, window or sink to center it on.")
            return
        at = offers.index(found.at) + 1 if found.at in offers else 0
        anchor = offers[at % len(offers)]
        words = f"center {found.name} on {center_words(job, anchor)}"
        self.session.apply(edits.MoveOpening(found.id, anchor), title=words)

    def turn_opening(self, way: str) -> None:
        """Turn the chosen opening a quarter to the left, or mirror it left to right."""
        chosen = self.bench.chosen_one()
        found = next((o for o in self.session.job.openings if chosen and o.id == chosen.id), None)
        if found is None:
            return
        shape = turned_shape(found.shape) if way == "left" else mirrored_shape(found.shape)
        if shape == found.shape:
            word = "Turning" if way == "left" else "Mirroring"
            self.bench.notice.say(f"{word} leaves the {found.name} as it is.")
            return
        edit = edits.SetOpening(replace(found, shape=shape))
        self.session.apply(edit, title=f"{'turn' if way == 'left' else 'mirror'} {found.name}")

    def copy_chosen(self) -> None:
        """Take up a copy of what is chosen; the one at work is put down by asking again."""
        if self.hand.tool == "copy":
            self.hand.cancel()
            return
        self.typing.keep_typed()
        gesture = copy_of(self.session.job, self.bench.chosen_one())
        if gesture is None:
            self.bench.notice.say(NO_COPY)
        else:
            self._take_up(gesture, "copy")

    def line_up(self) -> None:
        """Set the chosen openings as far back as the first, or sides of islands in line with it."""
        if self._openings():
            self._arrange(lambda job, _: lined_up(job, self._openings()), "line up openings")
        else:
            self._arrange(sides_lined_up, "line up islands")

    def line_up_middles(self) -> None:
        """Set the chosen openings one behind the other, or islands before the first's middle."""
        if self._openings():
            self._arrange(
                lambda job, _: one_behind_another(job, self._openings()), "line up openings"
            )
        else:
            self._arrange(middles_lined_up, "line up the middles of islands")

    def spread_out(self) -> None:
        """Leave equal spaces between the chosen openings, cabinets or islands."""
        cabinets = [one.id for one in self.session.chosen if one.kind == "cabinet"]
        if self._openings():
            self._arrange(lambda job, _: spread_out(job, self._openings()), "space openings evenly")
        elif cabinets:
            self._arrange(
                lambda job, _: cabinets_spread_out(job, cabinets), "space cabinets evenly"
            )
        else:
            self._arrange(islands_spread_out, "space islands evenly")

    def _openings(self) -> list[Id]:
        return [subject.id for subject in self.session.chosen if subject.kind == "opening"]

    def _arrange(
        self, arranged: Callable[[Job, Sequence[Subject]], tuple[edits.Edit, ...]], title: str
    ) -> None:
        try:
            made = arranged(self.session.job, self.session.chosen)
        except AligningError as error:
            self.bench.notice.say(str(error))
            return
        if made:
            self.session.apply(*made, title=title)
        else:
            self.bench.notice.say("They are so already.")

    def propose_tops(self) -> None:
        """Put tops over the cabinets that have none, as one step."""
        self.hand.cancel()
        self.session.go_to("Counters")
        proposals = proposed_runs(self.session.job)
        made = [edit for proposal in proposals for edit in proposal.edits]
        if made:
            self.session.choose()
            self.session.apply(*made, title="put tops over the cabinets")
        words = proposal_words(proposals)
        self.bench.notice.say(words or "Every wall with cabinets has a top already.")
        self.bench.update_actions()

    def suggest_seams(self) -> None:
        """Look for the best seams of the top at hand."""
        self.typing.keep_typed()
        self.hand.cancel()
        self.session.go_to("Seams")
        self.suggesting.suggest()

    def type_readings(self) -> None:
        """Type the readings of the room, one after the other."""
        self.session.go_to("Room")
        self.typing.type_readings()

    def show_job(self) -> None:
        """Show what is set for the whole job."""
        self.session.choose()
        self.bench.job_asked = True
        self.bench.show_described()
        self.bench.window.column.form.to_top()
        self.bench.properties.boxes[0].setFocus(Qt.FocusReason.OtherFocusReason)

    def undo(self) -> None:
        """Go one step back, or one of the gesture under way."""
        if self.hand.working:
            self._step(self.hand.undo, "Undone", self.hand.undo_title)
        else:
            self.session.undo()

    def redo(self) -> None:
        """Go one step forward, or one of the gesture under way."""
        if self.hand.working:
            self._step(self.hand.redo, "Done again", self.hand.redo_title)
        else:
            self.session.redo()

    def _step(self, step: Callable[[], None], how: str, title: str | None) -> None:
        """Take a step of the gesture under way; keys that are the entry line's stay there."""
        entry, focused = self.bench.entry, QApplication.focusWidget()
        typing = focused is not None and entry.isAncestorOf(focused)
        if typing:
            entry.settle()
        step()
        if title is not None:
            self.typing.say(f"{how}: {title}")
            self.bench.announce(f"{how}: {title}. {self.hand.doing.hint}")
        if typing and not entry.focus_first():
            self.bench.take_keys()

    def remove_chosen(self) -> None:
        """Remove what is chosen."""
        self.hand.cancel()
        job = self.session.job
        gone = [edit for subject in self.session.chosen for edit in things.removal(job, subject)]
        if gone:
            self.session.choose()
            self.session.apply(*gone)

    def choose_next(self, also: str = "") -> None:
        """Choose the thing after the chosen one; also: besides it."""
        self._choose_by(1, also=bool(also))

    def choose_previous(self, also: str = "") -> None:
        """Choose the thing before the chosen one; also: besides it."""
        self._choose_by(-1, also=bool(also))

    def _choose_by(self, way: int, *, also: bool) -> None:
        listed = things.listed_subjects(self.session.job)
        chosen = self.bench.chosen_one()
        if also and chosen is not None and chosen in listed:
            # What is arranged or shaped together is of one kind.
            listed = tuple(s for s in listed if s.kind == chosen.kind)
        if not listed:
            return
        self.typing.keep_typed()
        if chosen in listed:
            place = (listed.index(chosen) + way) % len(listed)
        else:
            kinds = FIRST_KINDS.get(self.session.stage, ())
            own = [place for place, s in enumerate(listed) if s.kind in kinds]
            place = (own or range(len(listed)))[0 if way > 0 else -1]
        kept = tuple(s for s in self.session.chosen if s != listed[place]) if also else ()
        self.session.choose(*kept, listed[place])
        self.bench.announce(self.bench.chosen_words())

    def choose_next_edge(self, also: str = "") -> None:
        """Choose the edge or corner after the chosen one, round its top; also: besides it."""
        self._walk(1, also=bool(also))

    def choose_edge_before(self, also: str = "") -> None:
        """Choose the edge or corner before the chosen one, round its top; also: besides it."""
        self._walk(-1, also=bool(also))

    def _walk(self, way: int, *, also: bool) -> None:
        job = self.session.job
        chosen = self.bench.chosen_one()
        top = top_of(job, chosen) or next((t.top.id for t in tops(job)), None)
        if top is None:
            return
        self.typing.keep_typed()
        walked = walk(job, top)
        near = next((i for i, s in enumerate(walked) if chosen and s.edge == chosen.edge), None)
        place = (0 if way > 0 else -1) if near is None else (near + way) % len(walked)
        kept = self.session.chosen if also and near is not None else ()
        self.session.choose(*(s for s in kept if s != walked[place]), walked[place])
        self.bench.announce(self.bench.chosen_words())

    def choose_all_corners(self) -> None:
        """Choose all corners of the top that something is chosen of, or of the only one."""
        job = self.session.job
        top = top_of(job, self.bench.chosen_one()) or next((t.top.id for t in tops(job)), None)
        if top is not None:
            self.typing.keep_typed()
            self.hand.cancel()
            self.session.go_to("Counters")
            self.session.choose(*corners_round(job, top))
            self.bench.announce(self.bench.chosen_words())

    def find_thing(self) -> None:
        """Show the list of all that can be chosen; what is picked in it is chosen."""
        from app.panels.finding_things import FindingThings

        self.typing.keep_typed()
        self.hand.cancel()
        job = self.session.job
        listed = things.everything(job)
        chosen = self.bench.chosen_one()
        names = [things.called(job, one) for one in listed]
        at = listed.index(chosen) if chosen in listed else -1
        self.list_of_things = FindingThings(names, at, self.bench.window)
        self.list_of_things.pointed_at.connect(
            lambda place: self.session.hover(listed[place] if place >= 0 else None)
        )
        self.list_of_things.picked.connect(lambda place: self._on_found(listed[place]))
        self.list_of_things.added.connect(lambda place: self._on_found(listed[place], also=True))
        column = self.bench.window.column
        self.list_of_things.resize(column.size())
        self.list_of_things.move(column.mapToGlobal(QPoint(0, 0)))
        self.list_of_things.show()
        self.list_of_things.activateWindow()

    def _on_found(self, subject: Subject, *, also: bool = False) -> None:
        """Choose what was found, where it can be seen; also: besides what is chosen."""
        if subject.kind in ROOM_ONLY:
            self.session.go_to("Room")
        elif self.session.stage not in BOARD_STAGES:
            self.session.go_to("Counters")
        self.bench.window.activateWindow()
        others = tuple(s for s in self.session.chosen if s != subject) if also else ()
        self.session.choose(*others, subject)
        self.bench.take_keys()
        self.bench.announce(self.bench.chosen_words())

    def show_boxes(self) -> None:
        """Let the keys come to the first box of the form of what is chosen."""
        self.typing.keep_typed()
        form = self.bench.properties
        if form.isHidden() or not form.boxes:
            self.bench.notice.say("There is nothing to type about it.")
        else:
            self.bench.window.column.form.to_top()
            form.boxes[0].setFocus(Qt.FocusReason.TabFocusReason)

    def see_chosen(self) -> None:
        """Bring what is chosen before the eyes; all of the drawing for what has no place in it."""
        job = self.session.job
        box = around(box_of(job, subject) for subject in self.session.chosen)
        if box is None:
            self.canvas.fit()
        else:
            self.canvas.show_place(box)

    def switch_display(self) -> None:
        """Change between inches and millimeters."""
        job = self.session.job
        other = "in" if job.display == "mm" else "mm"
        self.session.apply(edits.SetDisplay("in" if other == "in" else "mm", job.fraction))
        self.hand.take_up(self.session.job)

    def fit(self) -> None:
        """Show all of the drawing or of the mold."""
        self.canvas.fit()
        self.bench.molds.view.fit()

    def zoom_in(self) -> None:
        """Go closer."""
        self.canvas.zoom_middle(1.25)

    def zoom_out(self) -> None:
        """Go farther."""
        self.canvas.zoom_middle(0.8)

    def show_sides(self, sides: Sides) -> None:
        """Show both sides of the fold or one."""
        self.bench.sides_asked = sides
        self.canvas.show_sides(sides)
        self.bench.tools.mark_sides(sides)

    def go_to_stage(self, stage: Stage) -> None:
        """Turn to a stage."""
        self.session.go_to(stage)

    def switch_shop_view(self) -> None:
        """Change between the desk's sizes and the shop's."""
        self.bench.switch_scale()

    def switch_pad(self) -> None:
        """Show a number pad on the screen, or put it away."""
        pad = self.bench.window.column.pad
        pad.setVisible(pad.isHidden())
        self.bench.update_actions()

    def switch_dark(self) -> None:
        """Change between light and dark."""
        self.bench.switch_look()
        self.suggesting.refresh()

    def show_keys(self) -> None:
        """Show the keyboard sheet."""
        from app.panels.keys import KeySheet

        self.key_sheet = KeySheet(self.bench.window)
        self.key_sheet.show()

    def new_job(self) -> None:
        """Ask for the name of a new job, in the entry line."""
        self.typing.ask_name()

    def close(self) -> None:
        """Close the window."""
        self.bench.window.close()

    def open_job(self) -> None:
        """Open a job file."""
        self.files.ask_and_open()

    def save(self) -> None:
        """Save the job."""
        self._settle_boxes()
        self.files.save()

    def save_as(self) -> None:
        """Save the job in another file."""
        self._settle_boxes()
        self.files.save_as()

    def _settle_boxes(self) -> None:
        focused = QApplication.focusWidget()
        if isinstance(focused, AnswerBox) and focused.isModified():
            focused.clearFocus()

    def write_shop_files(self) -> None:
        """Write every shop file into a folder."""
        self.files.ask_and_write()

    def preview_plot(self) -> None:
        """Look at the full-size plot before it is printed."""
        self.files.preview_plot()

    def preview_measuring_sheet(self) -> None:
        """Look at the measuring sheet, and print it to be taken along."""
        self.files.preview_measuring_sheet()

    def show_cut_plans(self) -> None:
        """Show how sheets and bars are cut, and what is to be bought."""
        self.session.go_to("Sheets")
        self.bench.sheets.show_plans()

    def show_stock_list(self) -> None:
        """Show what there is in the shop and what can be bought, to be typed."""
        self.show_cut_plans()
        self.bench.sheets.stock.show_stock_list()

    def print_plot(self) -> None:
        """Print the full-size plot."""
        self.files.print_plot()

    def next_finding(self, way: str = "") -> None:
        """Show the first thing to look at; asked again, the one after it, or the one before."""
        groups = grouped(findings(self.session.job))
        if not groups:
            self.bench.notice.say("Nothing found so far.")
            return
        self.typing.keep_typed()
        places = [group.findings for group in groups]
        by = -1 if way else 1
        at = places.index(self._seen) + by if self._seen in places else min(by, 0)
        group = groups[at % len(groups)]
        self.show_finding(*group.findings)
        shown = f"{at % len(groups) + 1} of {len(groups)}"
        offer = next(iter(self._offers(group.findings)), None)
        offered = "" if offer is None else f" Offered: {offer.label}."
        self.bench.announce(f"{group.title}. {group.text} {shown}.{offered}")

    def _offers(self, found: Sequence[Finding]) -> tuple[Remedy, ...]:
        """Return what is offered for the first of some findings for which anything is."""
        job = self.session.job
        return next((offered for one in found if (offered := remedies(job, one))), ())

    def take_remedy(self) -> None:
        """Do the first thing that is offered for the finding shown last."""
        groups = grouped(findings(self.session.job))
        shown = next((g for g in groups if g.findings == self._seen), None)
        if shown is None:
            self.next_finding()
            return
        offer = next(iter(self._offers(shown.findings)), None)
        if offer is None:
            self.bench.notice.say(f"{shown.title}: there is nothing to press that mends it.")
        else:
            self.session.apply(offer.edit, *offer.also)

    def show_finding(self, *found: Finding) -> None:
        """Bring what a finding, or several, are about before the eyes, and choose it."""
        self._seen = found
        self.bench.to_look_at.mark_shown(found)
        job = self.session.job
        about = dict.fromkeys(subject for finding in found for subject in finding.about)
        stage = stage_of(found[0])
        if stage == "Molds" and about:
            self.session.go_to(stage)
        elif self.session.stage not in BOARD_STAGES:
            self.session.go_to(stage if stage in BOARD_STAGES else "Seams")
        self.session.choose(*reversed(about))
        box = around(finding_box(job, finding) for finding in found)
        if box is not None:
            self.canvas.show_place(box)

    def _on_mold_piece(self, name: str) -> None:
        self.bench.mold_piece = name
        self.session.choose(Subject("piece", name))
        self.bench.show_mold()

    def _on_sides(self, construction: Construction) -> None:
        # What the whole job has is no choice of its own.
        own = None if construction == self.session.job.molds.construction else construction
        self.session.apply(edits.BuildMold(self.bench.mold_piece, own))
        self.bench.show_mold()

    def _on_turning(self, edge: object) -> None:
        if isinstance(edge, EdgeRef):
            self.session.apply(edits.TurnAbout(self.bench.mold_piece, edge))
