"""Programs timed in processes of their own, from their start until they say that they are done."""

import os
import subprocess
import sys
from pathlib import Path
from time import time

ROOT = Path(__file__).resolve().parents[2]

DONE = """
import os, time
def done():
    print(time.time(), time.process_time(), flush=True)
    os._exit(0)
"""

# The event posted at the paint that is meant is handled once all of the window has been painted.
WATCHED = f"""{DONE}
from PySide6.QtCore import QCoreApplication, QEvent, QObject, Qt
from PySide6.QtWidgets import QApplication

class Watch(QObject):
    def eventFilter(self, watched, event):
        if event.type() == QEvent.Type.Paint and watched.isWidgetType() and meant(watched):
            after = QEvent(QEvent.Type.User)
            QCoreApplication.postEvent(self, after, Qt.EventPriority.HighEventPriority.value)
        return False

    def event(self, event):
        done()

app = QApplication([])
watch = Watch()
app.installEventFilter(watch)
"""

EMPTY_WINDOW = f"""{WATCHED}
from PySide6.QtWidgets import QMainWindow
meant = lambda widget: widget.isWindow()
window = QMainWindow()
window.resize(1280, 800)
window.show()
app.exec()
"""

WINDOW = f"""{WATCHED}
meant = lambda widget: widget.isWindow()
from app.main import main
main([])
"""

DRAWING = f"""{WATCHED}
meant = lambda widget: hasattr(widget.parent(), "drawing")
from app.main import main
main([])
"""

EXPORT = f"""{DONE}
import sys
from app.main import main
assert main(["export", sys.argv[1], "--out", sys.argv[2]]) == 0
done()
"""

BARE_EXPORT = f"""{DONE}
import sys
import ezdxf
from PySide6.QtGui import QGuiApplication, QPainter, QPdfWriter
app = QGuiApplication([])
for number, pages in enumerate(sys.argv[2:]):
    writer = QPdfWriter(f"{{sys.argv[1]}}/{{number}}.pdf")
    painter = QPainter(writer)
    for _ in range(int(pages) - 1):
        writer.newPage()
    painter.end()
done()
"""


def run(program: str, folder: Path, *arguments: str) -> tuple[float, float]:
    """Run a program with an empty home folder; return its milliseconds, clock and processor."""
    home = {name: str(folder) for name in ("HOME", "XDG_CONFIG_HOME", "XDG_STATE_HOME")}
    environment = {**os.environ, **home}
    environment.pop("PYTHONDONTWRITEBYTECODE", None)  # a program compiles itself at its first start
    begun = time()
    ran = subprocess.run(
        [sys.executable, "-c", program, *arguments],
        cwd=ROOT,
        env=environment,
        capture_output=True,
        text=True,
        check=True,
    )
    ended, processor = map(float, ran.stdout.splitlines()[-1].split())
    return 1e3 * (ended - begun), 1e3 * processor
