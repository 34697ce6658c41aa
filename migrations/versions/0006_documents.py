"""Messages that go out with a file."""

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"


def upgrade() -> None:
    """Gives the outbox a place for what its file is made of."""
    with op.batch_alter_table("outbox") as outbox:
        outbox.add_column(sa.Column("document", sa.Text, nullable=True))
