"""Fonts and the style sheet: the look made into what Qt understands."""

import sys
from importlib.util import find_spec
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QFont, QFontDatabase, QGuiApplication, QPalette
from PySide6.QtWidgets import QApplication

from app.look import DARK, LIGHT, Palette, Scale

FAMILY = "Source Sans Pro"


def load_fonts() -> None:
    """Load the one font from its package, once for each program run.

    Raises:
        FileNotFoundError: the package or a file of it is missing.
    """
    if FAMILY in QFontDatabase.families():
        return
    spec = find_spec("font_source_sans_pro")
    if spec is None or spec.origin is None:
        raise FileNotFoundError("The package font-source-sans-pro is missing: install it again.")
    folder = Path(spec.origin).parent / "files"
    for weight in ("Regular", "It", "Semibold", "Bold"):
        path = folder / f"SourceSansPro-{weight}.ttf"
        if QFontDatabase.addApplicationFont(str(path)) < 0:
            raise FileNotFoundError(f"The font file {path.name} is missing: install it again.")


def font(size_px: int, *, bold: bool = False) -> QFont:
    """Return the font of the window at a size in pixels."""
    made = QFont(FAMILY)
    made.setPixelSize(size_px)
    made.setWeight(QFont.Weight.DemiBold if bold else QFont.Weight.Normal)
    return made


def system_palette() -> Palette:
    """Return the light or dark palette, as the system asks for."""
    dark = QGuiApplication.styleHints().colorScheme() == Qt.ColorScheme.Dark
    return DARK if dark else LIGHT


def qt_palette(palette: Palette) -> QPalette:
    """Return the palette of Qt's own parts (menus, dialogs, selections in boxes)."""
    made = QPalette()
    role = QPalette.ColorRole
    for which, name in (
        (role.Window, palette.board),
        (role.WindowText, palette.ink),
        (role.Base, palette.field),
        (role.AlternateBase, palette.card),
        (role.Text, palette.ink),
        (role.Button, palette.card),
        (role.ButtonText, palette.ink),
        (role.ToolTipBase, palette.strong),
        (role.ToolTipText, palette.on_strong),
        (role.PlaceholderText, palette.quiet),
        (role.Highlight, palette.wall),
        (role.HighlightedText, palette.paper),
    ):
        made.setColor(which, QColor(name))
    for which in (role.WindowText, role.Text, role.ButtonText):
        made.setColor(QPalette.ColorGroup.Disabled, which, QColor(palette.border))
    return made


def dress(app: QApplication, palette: Palette, scale: Scale) -> None:
    """Give the whole program its font, colors and sizes, unless it has them already."""
    wanted = f"{palette.name} {scale.text}"
    if app.property("dressed") == wanted:
        return
    app.setProperty("dressed", wanted)
    app.setStyle("Fusion")
    app.setFont(font(scale.text))
    app.setPalette(qt_palette(palette))
    app.setStyleSheet(style_sheet(palette, scale))


def style_sheet(p: Palette, s: Scale) -> str:
    """Return the style sheet; parts are chosen by object name or by the property 'look'."""
    radius = s.target // 2
    menu_bar = "" if sys.platform == "darwin" else _MENU_BAR
    return (menu_bar + _SHEET).format(
        **p._asdict(),
        text=s.text,
        small=s.small,
        heading=s.heading,
        number=s.number,
        target=s.target,
        inner=s.target - 4,
        radius=radius - 1,
        pad=s.target // 2 - 3,
        least=s.target - 18,
    )


_MENU_BAR = """
QMenuBar {{ background: {header}; color: {ink}; font-size: {small}px; padding: 1px 8px; }}
QMenuBar::item {{ padding: 3px 9px; border-radius: 4px; background: transparent; }}
QMenuBar::item:selected {{ background: {strong}; color: {on_strong}; }}
"""

_SHEET = """
QWidget {{ font-size: {text}px; color: {ink}; }}
QMainWindow, QDialog {{ background: {board}; }}
QMenu {{ background: {paper}; border: 1px solid {hairline}; padding: 5px; }}
QMenu::item {{ padding: 5px 26px 5px 14px; border-radius: 4px; }}
QMenu::item:selected {{ background: {strong}; color: {on_strong}; }}
QMenu::item:disabled {{ color: {border}; }}
QMenu::item:disabled:selected {{ background: {card}; }}
QMenu::separator {{ height: 1px; background: {hairline}; margin: 4px 8px; }}
QToolTip {{ background: {strong}; color: {on_strong}; border: none; padding: 4px 8px;
  font-size: {small}px; }}

#header {{ background: {header}; border-bottom: 1px solid {hairline}; }}
#jobName {{ font-size: {heading}px; font-weight: 600; }}
#revision, QLabel[look="quiet"] {{ color: {quiet}; font-size: {small}px; }}
QLabel[look="heading"] {{ font-size: {heading}px; font-weight: 600; }}
QLabel[look="value"] {{ font-weight: 600; }}
QLabel[look="taken"] {{ background: {strong}; color: {on_strong}; border-radius: 6px;
  padding: 1px 7px; font-weight: 600; }}
QLabel[look="warning"] {{ color: {warning}; font-weight: 600; }}
QLabel[look="reason"] {{ font-size: {small}px; }}
QLabel[look="echo"] {{ color: {quiet}; }}
QLabel[look="wrong"] {{ color: {warning}; }}

QFrame[look="card"] {{ background: {card}; border: 1px solid {hairline}; border-radius: 8px; }}
QFrame[look="paper"] {{ background: {paper}; border: 1px solid {hairline}; border-radius: 8px; }}
QFrame[look="rule"] {{ background: {hairline}; border: none; max-height: 1px; min-height: 1px; }}
QFrame[look="row"] {{ border: none; border-top: 1px solid {hairline}; border-radius: 0; }}
QFrame[look="finding"] {{ background: transparent; border: none;
  border-left: 5px solid {warning}; border-radius: 0; }}
QFrame[look="advice"] {{ background: transparent; border: none; border-left: 5px solid {mold};
  border-radius: 0; }}

QFrame[shown="true"] {{ background: {paper}; }}

QPushButton, QToolButton {{ min-height: {inner}px; padding: 0 {pad}px; border: 1px solid {border};
  border-radius: {radius}px; background: {field}; color: {ink}; }}
QFileDialog QToolButton {{ min-height: 24px; min-width: 24px; padding: 2px; border-radius: 4px; }}
QPushButton:hover, QToolButton:hover {{ border-color: {ink}; }}
QPushButton:focus, QToolButton:focus {{ border: 2px solid {wall}; padding: 0 {pad}px; }}
QPushButton:pressed, QToolButton:pressed {{ background: {card}; }}
QPushButton:checked, QToolButton:checked {{ background: {strong}; color: {on_strong};
  border-color: {strong}; }}
QPushButton:disabled, QToolButton:disabled {{ color: {border}; border-color: {hairline}; }}
QToolButton::menu-indicator {{ image: none; }}
QPushButton[look="strong"] {{ background: {strong}; color: {on_strong}; border-color: {strong};
  border-radius: 6px; font-weight: 600; min-height: {target}px; }}
QPushButton[look="strong"]:hover {{ background: {wall}; border-color: {wall}; color: {paper}; }}
QPushButton[look="strong"]:focus {{ border: 2px solid {mold}; }}
QPushButton[look="strong"]:disabled {{ background: {border}; border-color: {border};
  color: {paper}; }}
QPushButton[look="attention"] {{ background: {warning_fill}; color: {warning};
  border-color: {warning};
  border-radius: 6px; font-weight: 600; min-height: {target}px; }}
QPushButton[look="calm"] {{ background: transparent; color: {quiet}; border-color: {hairline};
  border-radius: 6px; min-height: {target}px; }}
QPushButton[look="attention"]:focus, QPushButton[look="calm"]:focus {{ border: 2px solid {wall}; }}
QPushButton[look="remedy"] {{ color: {wall}; border-color: {wall}; font-weight: 600;
  font-size: {small}px; }}
QPushButton[look="fold"] {{ background: {foam}; color: {mold}; border-color: {mold};
  font-size: {small}px; font-weight: 600; padding: 0 10px; }}
QPushButton[look="close"], QPushButton[look="close"]:focus {{ padding: 0 8px;
  min-width: {least}px; }}
QPushButton[look="strike"] {{ border: none; background: transparent; color: {quiet}; padding: 0;
  min-width: {inner}px; }}
QPushButton[look="strike"]:hover {{ color: {warning}; }}
QPushButton[look="strike"]:focus {{ border: 2px solid {wall}; padding: 0; }}
QPushButton[look="pad"] {{ border-radius: 5px; padding: 0; min-height: {target}px; }}
QPushButton[look="more"] {{ border: none; background: transparent; color: {quiet}; padding: 0;
  min-width: {text}px; }}
QPushButton[look="more"]:hover {{ color: {ink}; }}
QToolButton[look="page"] {{ border: 1px solid transparent; border-radius: 6px; padding: 4px;
  background: transparent; font-size: {small}px; }}
QToolButton[look="page"]:hover {{ border-color: {border}; background: {card}; }}
QToolButton[look="page"]:focus {{ border: 2px solid {wall}; padding: 3px; }}
QPushButton[look="next"] {{ text-align: left; border: 1px solid {wall}; border-radius: 6px;
  background: {paper}; padding: 0; }}
QPushButton[look="next"]:hover {{ border-color: {ink}; }}
QPushButton[look="next"]:focus {{ border: 2px solid {wall}; padding: 0; }}
QFrame[look="doubtful"] {{ background: {warning_fill}; border: none; border-radius: 4px; }}
QPushButton[look="row"] {{ text-align: left; border: none; border-radius: 4px;
  background: transparent;
  padding: 0 6px; min-height: {target}px; }}
QPushButton[look="row"]:hover, QPushButton[lit="true"] {{ background: {paper}; }}
QPushButton[look="row"]:checked {{ background: {strong}; color: {on_strong}; }}
QPushButton[look="row"]:focus {{ border: 2px solid {wall}; }}

QLineEdit {{ min-height: {inner}px; padding: 0 8px; border: 1px solid {border}; border-radius: 5px;
  background: {field}; color: {ink}; selection-background-color: {wall};
  selection-color: {paper}; }}
QLineEdit:focus {{ border: 2px solid {wall}; padding: 0 7px; }}
QLineEdit[look="number"] {{ font-size: {number}px; }}
QLineEdit[wrong="true"] {{ border: 2px solid {warning}; }}
QComboBox {{ min-height: {inner}px; padding: 0 8px; border: 1px solid {border}; border-radius: 5px;
  background: {field}; }}
QComboBox::drop-down {{ border: none; width: 22px; }}
QComboBox:focus {{ border: 2px solid {wall}; }}
QComboBox QAbstractItemView {{ background: {paper}; border: 1px solid {hairline};
  selection-background-color: {wall}; selection-color: {paper}; }}
QListWidget {{ background: {field}; border: 1px solid {hairline}; border-radius: 5px;
  padding: 3px; outline: none; }}
QListWidget::item {{ min-height: {inner}px; padding: 0 6px; border-radius: 4px; }}
QListWidget::item:selected {{ background: {strong}; color: {on_strong}; }}
QListWidget[look="ticks"]::item:selected {{ background: {card}; color: {ink}; }}
QListWidget:focus {{ border: 2px solid {wall}; }}

QScrollArea, QScrollArea > QWidget > QWidget {{ background: transparent; border: none; }}
QScrollBar:vertical {{ background: transparent; width: 12px; margin: 2px; }}
QScrollBar::handle:vertical {{ background: {border}; border-radius: 4px; min-height: 30px; }}
QScrollBar:horizontal {{ background: transparent; height: 12px; margin: 2px; }}
QScrollBar::handle:horizontal {{ background: {border}; border-radius: 4px; min-width: 30px; }}
QScrollBar::add-line, QScrollBar::sub-line {{ height: 0; width: 0; }}
QProgressBar {{ min-height: 10px; max-height: 10px; border: 1px solid {border}; border-radius: 5px;
  background: {field}; text-align: center; }}
QProgressBar::chunk {{ background: {wall}; border-radius: 4px; }}
QGraphicsView {{ background: {paper}; border: none; }}
OneSheet {{ border: 2px solid {paper}; }}
OneSheet:focus, PourPage:focus, _Scrolled:focus, QTreeWidget:focus {{ border: 2px solid {wall};
  border-radius: 5px; }}
#notice {{ background: {strong}; border-radius: 8px; }}
#notice QLabel {{ color: {on_strong}; }}
#notice QPushButton {{ min-height: {inner}px; padding: 0 8px; }}
#notice #putAway {{ border: 1px solid transparent; background: transparent; color: {on_strong};
  min-width: {inner}px; padding: 0; }}
#notice #putAway:hover, #notice #putAway:focus {{ border-color: {on_strong}; }}
"""
