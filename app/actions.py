"""Actions: everything a person can ask for, as data; menus, tool row and keyboard sheet follow."""

from collections.abc import Callable
from typing import Literal, NamedTuple, TypeAlias

from app.gestures.hand import Hand
from app.session import Session
from app.stages import STAGES, Stage
from app.things import removal

Menu: TypeAlias = Literal["Job", "Edit", "Place", "View", "Help"]
MENUS: tuple[Menu, ...] = ("Job", "Edit", "Place", "View", "Help")


class Situation(NamedTuple):
    """What the enabling of actions depends on."""

    undo_title: str | None
    redo_title: str | None
    dirty: bool
    chosen: int
    removable: bool
    working: bool
    walls: bool
    tops: bool
    cabinets: bool
    opening: bool


def situation(session: Session, hand: Hand) -> Situation:
    """Return the situation of a session and the gesture under way."""
    job, working = session.job, hand.working
    return Situation(
        undo_title=hand.undo_title if working else session.history.undo_title,
        redo_title=hand.redo_title if working else session.history.redo_title,
        dirty=session.dirty,
        chosen=len(session.chosen),
        removable=any(removal(session.job, s) for s in session.chosen),
        working=working,
        walls=bool(job.room.walls),
        tops=bool(job.runs or job.islands),
        cabinets=bool(job.cabinets),
        opening=bool(session.chosen) and session.chosen[-1].kind == "opening",
    )


class Action(NamedTuple):
    """One action. callback is the name of the window's method; argument is handed to it if set.

    stage puts it into the tool row of that stage, under its short name if it has one. title may
    depend on the situation.
    """

    id: str
    title: str
    menu: Menu
    callback: str
    shortcut: str = ""
    argument: str = ""
    stage: Stage | None = None
    hint: str = ""
    enabled: Callable[[Situation], bool] = lambda _: True
    full_title: Callable[[Situation], str] | None = None
    checkable: bool = False
    other_key: str = ""
    gap_before: bool = False
    in_row: bool = True
    short: str = ""


def _undo_title(now: Situation) -> str:
    return f"Undo: {now.undo_title}" if now.undo_title else "Undo"


def _redo_title(now: Situation) -> str:
    return f"Redo: {now.redo_title}" if now.redo_title else "Redo"


def _tool(
    id: str,
    title: str,
    stage: Stage,
    shortcut: str,
    hint: str,
    needs: Callable[[Situation], bool] = lambda _: True,
    short: str = "",
) -> Action:
    return Action(id, title, "Place", "start_tool", shortcut, id, stage, hint, needs, short=short)


def _for_opening(
    id: str, title: str, callback: str, shortcut: str, hint: str, argument: str = ""
) -> Action:
    """Return an action on the chosen opening; it has no button in the tool row."""
    return Action(
        id,
        title,
        "Place",
        callback,
        shortcut,
        argument,
        "Openings",
        hint,
        lambda now: now.opening,
        in_row=False,
    )


def _walls(now: Situation) -> bool:
    return now.walls


def _tops(now: Situation) -> bool:
    return now.tops


def _walls_or_tops(now: Situation) -> bool:
    return now.walls or now.tops


ACTIONS: tuple[Action, ...] = (
    Action("new", "New job", "Job", "new_job", "Ctrl+N"),
    Action("sample", "New from sample", "Job", "new_from_sample"),
    Action("open", "Open ...", "Job", "open_job", "Ctrl+O"),
    Action("recent", "Recent jobs", "Job", "recent_jobs"),
    Action("save", "Save", "Job", "save", "Ctrl+S", gap_before=True),
    Action("save-as", "Save as ...", "Job", "save_as", "Ctrl+Shift+S"),
    Action("write", "Write shop files ...", "Job", "write_shop_files", "Ctrl+E", gap_before=True),
    Action("preview", "Look at the plot ...", "Job", "preview_plot", "Ctrl+Shift+P"),
    Action("print", "Print full size ...", "Job", "print_plot", "Ctrl+P"),
    Action(
        "measuring-sheet",
        "Measuring sheet ...",
        "Job",
        "preview_measuring_sheet",
        "Ctrl+R",
        enabled=_walls,
    ),
    Action("cut-plans", "Cut plans and shopping", "Job", "show_cut_plans", "Ctrl+B"),
    Action("stock-list", "Stock list", "Job", "show_stock_list", "Ctrl+Shift+B"),
    Action("quit", "Quit", "Job", "close", "Ctrl+Q", gap_before=True),
    Action(
        "undo",
        "Undo",
        "Edit",
        "undo",
        "Ctrl+Z",
        enabled=lambda now: now.working or now.undo_title is not None,
        full_title=_undo_title,
    ),
    Action(
        "redo",
        "Redo",
        "Edit",
        "redo",
        "Ctrl+Shift+Z",
        enabled=lambda now: now.redo_title is not None,
        full_title=_redo_title,
        other_key="Ctrl+Y",
    ),
    Action(
        "remove",
        "Remove",
        "Edit",
        "remove_chosen",
        "Delete",
        enabled=lambda now: now.removable,
        gap_before=True,
    ),
    Action("next", "Choose the next thing", "Edit", "choose_next", "Ctrl+Right", gap_before=True),
    Action("previous", "Choose the one before", "Edit", "choose_previous", "Ctrl+Left"),
    Action(
        "next-also",
        "Choose the next thing, too",
        "Edit",
        "choose_next",
        "Ctrl+Shift+Right",
        "also",
    ),
    Action(
        "previous-also",
        "Choose the one before, too",
        "Edit",
        "choose_previous",
        "Ctrl+Shift+Left",
        "also",
    ),
    Action(
        "next-edge",
        "Choose the next edge or corner",
        "Edit",
        "choose_next_edge",
        "Ctrl+Down",
        enabled=_tops,
    ),
    Action(
        "edge-before",
        "Choose the edge or corner before",
        "Edit",
        "choose_edge_before",
        "Ctrl+Up",
        enabled=_tops,
    ),
    Action(
        "next-edge-also",
        "Choose the next edge or corner, too",
        "Edit",
        "choose_next_edge",
        "Ctrl+Shift+Down",
        "also",
        enabled=_tops,
    ),
    Action(
        "edge-before-also",
        "Choose the edge or corner before, too",
        "Edit",
        "choose_edge_before",
        "Ctrl+Shift+Up",
        "also",
        enabled=_tops,
    ),
    Action(
        "all-corners",
        "Choose all corners of this top",
        "Edit",
        "choose_all_corners",
        "Ctrl+Shift+C",
        enabled=_tops,
    ),
    Action(
        "find",
        "Find a thing ...",
        "Edit",
        "find_thing",
        "Ctrl+F",
        hint="A list of all that can be chosen, by its name.",
    ),
    Action(
        "boxes",
        "Go to its boxes",
        "Edit",
        "show_boxes",
        "Alt+Return",
        hint="All that can be typed about what is chosen; Esc goes back to the drawing.",
        enabled=lambda now: now.chosen > 0,
    ),
    Action(
        "next-finding",
        "Next thing to look at",
        "Edit",
        "next_finding",
        "F5",
        gap_before=True,
    ),
    Action(
        "finding-before", "Thing to look at before", "Edit", "next_finding", "Shift+F5", "before"
    ),
    Action(
        "take-remedy",
        "Do what is offered for it",
        "Edit",
        "take_remedy",
        "Ctrl+F5",
        hint="The first thing that is offered for what was looked at last.",
    ),
    Action(
        "copy",
        "Copy, or a run onto another wall",
        "Edit",
        "copy_chosen",
        "Ctrl+D",
        hint="What is chosen once more; a run goes onto another wall, mirrored or as it is.",
        enabled=_walls_or_tops,
        gap_before=True,
    ),
    Action(
        "line-up",
        "Line up with the first chosen",
        "Edit",
        "line_up",
        "Ctrl+L",
        hint="Openings come as far back as the first, sides of islands in line with it.",
        enabled=lambda now: now.chosen > 1,
    ),
    Action(
        "line-up-middles",
        "Middles in line with the first's",
        "Edit",
        "line_up_middles",
        "Ctrl+G",
        hint="Openings come one behind the other, islands before the middle of what came first.",
        enabled=lambda now: now.chosen > 1,
    ),
    Action(
        "spread-out",
        "Equal spaces between",
        "Edit",
        "spread_out",
        "Ctrl+Shift+L",
        hint="Openings, cabinets or islands between the outer two move until spaces are equal.",
        enabled=lambda now: now.chosen > 2,
    ),
    Action(
        "type-over",
        "Type over a length",
        "Edit",
        "type_over",
        "F6",
        enabled=lambda now: now.walls or now.tops,
        gap_before=True,
    ),
    Action("job", "The whole job", "Edit", "show_job", "Ctrl+J", gap_before=True),
    Action("display", "Millimeters", "Edit", "switch_display", "Ctrl+M", checkable=True),
    _tool("walls", "Draw walls", "Room", "W", "Click where a wall starts."),
    _tool(
        "cabinet",
        "Cabinet",
        "Room",
        "U",
        "Click a wall, a peninsula or an island, type width after width; they line up.",
        needs=_walls_or_tops,
    ),
    _tool(
        "split-wall", "Corner in a wall", "Room", "K", "Click where the wall turns.", needs=_walls
    ),
    _tool(
        "straightedge",
        "Straightedge",
        "Room",
        "E",
        "Click a wall: gaps to a straightedge, depths to the faces, plumb lines.",
        needs=_walls,
    ),
    _tool(
        "baseline",
        "Baseline",
        "Room",
        "N",
        "Click a wall: a string along it, and offsets from the string.",
        needs=_walls,
    ),
    _tool("mark", "Mark", "Room", "M", "Click where a window, an outlet or a drain is.", _walls),
    Action(
        "readings", "Type readings", "Place", "type_readings", "Y", enabled=_walls, gap_before=True
    ),
    _tool(
        "run",
        "Trace along walls",
        "Counters",
        "T",
        "Click near where the cabinets begin.",
        needs=_walls,
        short="Trace",
    ),
    Action(
        "propose-tops",
        "Propose tops",
        "Place",
        "propose_tops",
        "G",
        stage="Counters",
        hint="Tops over the cabinets along the walls, in one step.",
        enabled=lambda now: now.cabinets,
    ),
    _tool(
        "peninsula",
        "Peninsula",
        "Counters",
        "H",
        "Click near the wall where the backs of the peninsula's cabinets are to stand.",
        needs=_walls,
    ),
    _tool(
        "splash",
        "Backsplash",
        "Counters",
        "Shift+B",
        "Click a back edge, or an end at a wall.",
        needs=_tops,
    ),
    _tool(
        "ledge",
        "Ledge",
        "Counters",
        "Shift+L",
        "Click a back edge, or the far side of a peninsula.",
        needs=_tops,
    ),
    _tool("island", "Island", "Counters", "I", "Drag from one corner to the other."),
    _tool(
        "free-shape",
        "Free shape",
        "Counters",
        "Shift+I",
        "Click corner after corner; pull before letting go to bow a side.",
    ),
    _tool(
        "round",
        "Round a corner",
        "Counters",
        "R",
        "Click a corner of a top, or pull it inward.",
        needs=_tops,
        short="Round",
    ),
    _tool(
        "clip",
        "Clip a corner",
        "Counters",
        "C",
        "Click a corner of a top, or pull it inward.",
        needs=_tops,
        short="Clip",
    ),
    _tool("single-bowl", "Single bowl", "Openings", "B", "Click where it goes.", needs=_tops),
    _tool("double-bowl", "Double bowl", "Openings", "D", "Click where it goes.", needs=_tops),
    _tool("apron", "Apron front", "Openings", "V", "Click where it goes.", needs=_tops),
    _tool("cooktop", "Cooktop", "Openings", "O", "Click where it goes.", needs=_tops),
    _tool("faucet", "Faucet hole", "Openings", "F", "Click where it goes.", needs=_tops),
    _tool("dispenser", "Dispenser", "Openings", "P", "Click where it goes.", needs=_tops),
    *(
        _tool(id_, title, "Openings", key, "Click where it goes.", needs=_tops)._replace(
            in_row=False
        )
        for id_, title, key in (
            ("grooves", "Drain grooves", "Shift+G"),
            ("slope", "Drain slope", "Shift+D"),
            ("inlay", "Inlay", "Shift+Y"),
            ("rods", "Trivet rods", "Shift+T"),
            ("insert", "Cast-in insert", "Shift+C"),
        )
    ),
    _tool("slot", "Slot", "Openings", "L", "Click where it goes.", needs=_tops)._replace(
        in_row=False
    ),
    Action(
        "shapes",
        "Shapes ...",
        "Place",
        "show_shapes",
        "Shift+A",
        stage="Openings",
        hint="Every shape with its picture and sizes, your own among them.",
        enabled=_tops,
    ),
    Action(
        "template",
        "Template ...",
        "Place",
        "pick_template",
        "A",
        stage="Openings",
        hint="The outline in a sink maker's DXF, cut exactly.",
        enabled=_tops,
    ),
    Action(
        "paper-template",
        "Paper template ...",
        "Place",
        "type_template",
        "Shift+P",
        stage="Openings",
        hint="Offsets from two boards to a maker's paper template, drawn back full size.",
        enabled=_tops,
        in_row=False,
    ),
    _for_opening(
        "center",
        "Center the opening",
        "center_opening",
        "Z",
        "On the cabinet, the window or the sink at hand; again, on the next one.",
    ),
    _for_opening(
        "turn-opening",
        "Turn the opening a quarter left",
        "turn_opening",
        "Ctrl+T",
        "About its middle or its anchor.",
        "left",
    ),
    _for_opening(
        "mirror-opening",
        "Mirror the opening",
        "turn_opening",
        "Ctrl+I",
        "Left to right, about its anchor.",
        "mirror",
    ),
    _for_opening(
        "keep-shape",
        "Keep in my shapes",
        "keep_shape",
        "Ctrl+K",
        "The chosen opening's shape, for every job.",
    ),
    _tool("seam", "Seam", "Seams", "S", "Click where the top is split.", needs=_tops),
    _tool(
        "corner-seam",
        "Seam from corner to corner",
        "Seams",
        "X",
        "Click an inside corner of the front.",
        needs=_tops,
    ),
    _tool(
        "dogleg",
        "Dog-leg seam",
        "Seams",
        "Shift+S",
        "Click where it starts at the back, where it bends, where it comes out.",
        needs=_tops,
    ),
    Action(
        "suggest-seams",
        "Suggest seams",
        "Place",
        "suggest_seams",
        "J",
        stage="Seams",
        hint="The three best layouts of a top's seams, within the limits of the whole job.",
        enabled=_tops,
    ),
    Action(
        "tape",
        "Lay a tape",
        "Place",
        "start_tool",
        "Q",
        "tape",
        hint="From one place of the drawing to another; it leaves nothing behind.",
        enabled=_walls_or_tops,
        gap_before=True,
    ),
    Action(
        "note",
        "Pin a note",
        "Place",
        "start_tool",
        "Shift+N",
        "note",
        hint="Words that stay at a place of the drawing, and go to paper with it.",
        enabled=_walls_or_tops,
    ),
    Action("fit", "See all of it", "View", "fit", "Home"),
    Action(
        "see-chosen",
        "See what is chosen",
        "View",
        "see_chosen",
        "Shift+Home",
        enabled=lambda now: now.chosen > 0,
    ),
    Action("zoom-in", "Closer", "View", "zoom_in", "Ctrl++"),
    Action("zoom-out", "Farther", "View", "zoom_out", "Ctrl+-"),
    Action("fold", "Both sides of the fold", "View", "show_sides", "F2", "both", gap_before=True),
    Action("face-up", "Face up alone", "View", "show_sides", "F3", "up"),
    Action("face-down", "Face down alone", "View", "show_sides", "F4", "down"),
    *(
        Action(
            f"stage-{stage.lower()}",
            stage,
            "View",
            "go_to_stage",
            f"Ctrl+{number}",
            stage,
            gap_before=number == 1,
        )
        for number, stage in enumerate(STAGES, 1)
    ),
    Action(
        "shop-view", "Shop view", "View", "switch_shop_view", "F8", checkable=True, gap_before=True
    ),
    Action("pad", "Number pad on the screen", "View", "switch_pad", "F7", checkable=True),
    Action("dark", "Dark", "View", "switch_dark", "F9", checkable=True),
    Action("keys", "Keys", "Help", "show_keys", "F1"),
)

ALWAYS_KEYS: tuple[tuple[str, str], ...] = (
    ("Arrow keys", "Move what is chosen by the job's smallest fraction"),
    ("Shift with arrow keys", "Move what is chosen by 1 in"),
    ("Alt with arrow keys", "Shift the paper"),
    ("Esc", "Step back: leave the box, the tool, the choice"),
    ("Enter", "Take what the boxes say; in the room with nothing chosen, go to the next tape"),
    ("Tab", "The next box"),
    ("Ctrl+Backspace", "In a reading's box: strike it, or bring it back"),
    ("Ctrl+Enter", "In a reading's box: tool, takes, note and more of it"),
    (
        "Number pad + and -",
        "A fraction more or less in the box; within a number that is typed - is a part of it",
    ),
    ("Shift and a click", "Choose an edge, an opening or a cabinet besides those chosen"),
    ("Shift and Enter in the list of things", "Choose what is found besides those chosen"),
    ("Alt while dragging", "No snapping"),
    ("Wheel", "Closer and farther about the cursor"),
    ("Middle button, or space bar, and drag", "Shift the paper"),
)
"""Keys that are not actions; the keyboard sheet lists them too."""


def tools_of(stage: Stage) -> tuple[Action, ...]:
    """Return the tools of a stage, in their order."""
    return tuple(action for action in ACTIONS if action.stage == stage and action.in_row)


def title(action: Action, now: Situation) -> str:
    """Return the action's title in a situation."""
    return action.full_title(now) if action.full_title else action.title


def keyboard_sheet() -> tuple[tuple[str, str], ...]:
    """Return every key and what it does."""
    keyed = tuple((a.shortcut, a.title.removesuffix(" ...")) for a in ACTIONS if a.shortcut)
    others = tuple((a.other_key, a.title) for a in ACTIONS if a.other_key)
    return keyed + others + ALWAYS_KEYS
