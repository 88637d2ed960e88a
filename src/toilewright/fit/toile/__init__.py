"""The toile: told beforehand where it will sit, read afterwards into alterations, and learned from over several makes.

`observations` knows what a toile can show, `sayings` understands it in plain English, `answer` says which alterations
would cure it, `predict` says what to expect before anything is sewn, `learned` what several toiles had in common.
"""

from toilewright.fit.toile.answer import Reading, answer
from toilewright.fit.toile.learned import Learned, Lesson, learn
from toilewright.fit.toile.observations import Observation, all_signs, find_sign
from toilewright.fit.toile.pieces import toile_of
from toilewright.fit.toile.predict import Prediction, predict
from toilewright.fit.toile.sayings import read_saying

__all__ = ["Learned", "Lesson", "Observation", "Prediction", "Reading", "all_signs", "answer", "find_sign", "learn",
           "predict", "read_saying", "toile_of"]
