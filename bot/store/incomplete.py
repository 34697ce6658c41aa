"""Which portions come out of a pot with an ingredient that has no figures, as a condition on weigh-ins."""

from sqlalchemy import ColumnElement, and_, exists, or_

from bot.kinds import BatchStep
from bot.store.schema import batch_event, batch_ingredient, weigh_in

_gone = batch_event.alias("gone")
_came = batch_event.alias("came")
_line = batch_ingredient.c.position

OF_AN_INCOMPLETE_POT: ColumnElement[bool] = and_(
    weigh_in.c.batch_id.is_not(None),
    exists().where(
        batch_ingredient.c.batch_id == weigh_in.c.batch_id,
        batch_ingredient.c.kcal.is_(None),
        or_(
            ~batch_ingredient.c.added,
            exists().where(
                _came.c.batch_id == batch_ingredient.c.batch_id, _came.c.entry == _line, _came.c.undone_by.is_(None)
            ),
        ),
        ~exists().where(
            _gone.c.batch_id == batch_ingredient.c.batch_id,
            _gone.c.line == _line,
            or_(_gone.c.kind == BatchStep.CORRECTED.value, _gone.c.kind == BatchStep.REMOVED.value),
            _gone.c.undone_by.is_(None),
        ),
    ),
)
"""Whether a weigh-in is a portion of a pot with an ingredient whose figures are not known: it counts as 'at least'."""
