"""A run made again on another wall: pointed to, walked to, or chosen by its name."""

from app.asking import Answer, Question
from app.gestures.along_walls import wall_near, wall_shown
from app.gestures.gesture import Cursor, Doing, Gesture, next_of
from geometry.naming import EdgeRef, Id
from geometry.outline import contains
from geometry.picking import Subject
from geometry.points import Point
from shop import edits
from shop.applying import applied_all
from shop.candidates import walked
from shop.job import Job
from shop.mirrored_runs import NoWallsError, Way, has_cabinets, opposite, run_on_wall, told
from shop.plan import tops
from shop.survey import room
from shop.words import wall_words

HOW = (("mirrored", "mirrored"), ("as-it-is", "as it is"))
TAKES = "Enter or a click takes it."
UNDER = (("no", "stay behind"), ("yes", "come along"))


class CopyRun(Gesture):
    """Makes a leg's run again with that leg on another wall; it begins at the opposite one."""

    hint = "Click the wall it goes onto, or go to it with the arrow keys and press Enter."

    def __init__(self, job: Job, leg: Id) -> None:
        super().__init__(job)
        self.leg, self._way = leg, Way()
        self._wall = opposite(job, leg, self._way)

    def start(self) -> Doing:
        """Show the run on the wall at hand, or say why it cannot be there."""
        asked = self._questions()
        if self._wall is None:
            return Doing(hint=self.hint, questions=asked)
        shown = wall_shown(room(self.job).wall(self._wall))
        try:
            made = run_on_wall(self.job, self.leg, self._wall, self._way)
            words = " ".join(told(self.job, self.leg, self._wall, self._way))
        except NoWallsError as error:
            return Doing(overlay=shown, hint=str(error), questions=asked)
        how = "mirrored" if self._way.mirrored else "as it is"
        title = f"copy a run onto {wall_words(self.job, self._wall)}, {how}"
        return Doing(made, shown, f"{words} {TAKES}" if words else self.hint, asked, title=title)

    def _questions(self) -> tuple[Question, ...]:
        walls = [w for w in room(self.job).walls if w.left != w.right]
        named = [(w.id, wall_words(self.job, w.id)) for w in walls]
        asked = [
            Question("wall", "Onto", "choice", self._wall or "", choices=tuple(named)),
            Question(
                "how", "", "choice", "mirrored" if self._way.mirrored else "as-it-is", choices=HOW
            ),
        ]
        if has_cabinets(self.job, self.leg):
            value = "yes" if self._way.cabinets else "no"
            asked.append(Question("under", "Its cabinets", "choice", value, choices=UNDER))
        return tuple(asked)

    def move(self, cursor: Cursor) -> Doing:
        """Show the run on the wall under the pointer."""
        self._wall = wall_near(self.job, cursor) or self._wall
        return self.start()

    def press(self, cursor: Cursor) -> Doing:
        """Put it onto the wall that is pressed, or leave it where it is pressed itself."""
        if wall_near(self.job, cursor) is None and not self._on_run(cursor.point):
            return self.start()
        self.move(cursor)
        return self.enter()

    def _on_run(self, point: Point) -> bool:
        """Tell whether a point is on the run that is shown."""
        added = next((e.run for e in self.start().edits if isinstance(e, edits.AddRun)), None)
        if added is None:
            return False
        made = tops(applied_all(self.job, self.start().edits))
        shown = next((top for top in made if top.top.id == added.id), None)
        return shown is not None and contains(shown.top.outline, point)

    def release(self, cursor: Cursor) -> Doing:
        """Go on."""
        return self.start()

    def answer(self, key: str, answer: Answer) -> Doing:
        """Take the wall, whether it is mirrored, or whether its cabinets come along."""
        if key == "wall":
            self._wall = str(answer)
        elif key == "how":
            self._way = self._way._replace(mirrored=answer == "mirrored")
        else:
            self._way = self._way._replace(cabinets=answer == "yes")
        return self.start()

    def arrow(self, way: Point) -> Doing:
        """Go to the next wall, or to the one before."""
        walls = tuple(wall.id for wall in walked(self.job.room.walls))
        self._wall = next_of(walls, self._wall, way)
        return self.start()

    def enter(self) -> Doing:
        """Leave the run on the wall at hand."""
        doing = self.start()
        made = next((e.run for e in doing.edits if isinstance(e, edits.AddRun)), None)
        if made is None:
            return doing
        leg = next(one.id for one in made.legs if one.wall == self._wall)
        front = Subject("edge", leg, EdgeRef(leg, "front"))
        return doing._replace(outcome="finished", questions=(), overlay=(), chosen=(front,))
