"""One JSON line per event on standard output, without secrets."""

import logging
import traceback
from typing import Any

import structlog
from structlog.typing import EventDict, WrappedLogger

from bibrack.blot import blot

_SHARED = (
    structlog.contextvars.merge_contextvars,
    structlog.stdlib.add_log_level,
    structlog.stdlib.add_logger_name,
    structlog.processors.TimeStamper(fmt="iso", utc=True),
)


class Blotted(logging.LogRecord):
    """A record whose words and traceback hold no secret, whichever logger made it and whichever handler writes it."""

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        if self.exc_info and self.exc_info[0] is not None:
            # Formatters take this text where it is there already.
            self.exc_text = blot("".join(traceback.format_exception(*self.exc_info)).rstrip())

    def getMessage(self) -> str:
        return blot(super().getMessage())


def without_secrets(logger: WrappedLogger, name: str, event: EventDict) -> EventDict:
    """Blot every text of an event, also inside lists and mappings."""
    return {key: _blotted(value) for key, value in event.items()}


def _blotted(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _blotted(each) for key, each in value.items()}
    if isinstance(value, list | tuple | set | frozenset):
        return [_blotted(each) for each in value]
    if value is None or isinstance(value, bool | int | float):
        return value
    return blot(str(value))  # what the renderer doesn't know it would write as text, too


def configure(options: dict[str, str]) -> None:
    """Send the standard library's and structlog's events through one JSON renderer."""
    logging.setLogRecordFactory(Blotted)
    handler = logging.StreamHandler()
    handler.setFormatter(formatter())
    root = logging.getLogger()
    root.handlers[:] = [handler]
    root.setLevel(options.get("level", "INFO"))
    logging.getLogger("procrastinate.blueprints").setLevel(logging.WARNING)  # it greets at every command
    structlog.configure(
        processors=[*_SHARED, structlog.stdlib.ProcessorFormatter.wrap_for_formatter],
        logger_factory=structlog.stdlib.LoggerFactory(),
        cache_logger_on_first_use=True,
    )


def formatter() -> logging.Formatter:
    """How every event is written."""
    return structlog.stdlib.ProcessorFormatter(
        foreign_pre_chain=_SHARED,
        processors=[
            structlog.stdlib.ProcessorFormatter.remove_processors_meta,
            structlog.processors.format_exc_info,
            without_secrets,
            structlog.processors.JSONRenderer(),
        ],
    )
