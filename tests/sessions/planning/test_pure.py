import subprocess
import sys


def test_planning_and_pictures_need_no_django() -> None:
    code = (
        "import sys; sys.modules['django'] = None\n"
        "import sessions.planning.budget, sessions.planning.fold, sessions.planning.rotation\n"
        "import sessions.planning.volume, sessions.planning.weather\n"
        "import sessions.pictures.section, sessions.pictures.week\n"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
