"""The demo club: an invented club with its library, people, pitches and three weeks of training, dated by today."""

from bibrack.demo.load import clear, load

__all__ = ["clear", "load"]
