"""Pictures of what was recorded: the figures as plain values, and the drawing of them.

The figures are kept with the message and drawn when it is sent, so that a message never waits for a picture.
"""
