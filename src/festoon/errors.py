"""The one family of errors that a user can cause: what is wrong, where, and what to do.

Nothing else may reach a user; a traceback is a defect of ours.
"""


class FestoonError(Exception):
    """A mistake in the worker's files or wishes, told in plain sentences.

    `where` names the file, line or element ('piece.toml, line 12', 'motif "sprig-3"'), `what` says what is wrong
    there and `remedy` what to do about it. `str()` gives all three as running text.
    """

    def __init__(self, what: str, *, where: str = "", remedy: str = "") -> None:
        self.what = what
        self.where = where
        self.remedy = remedy
        super().__init__(what, where, remedy)

    def __str__(self) -> str:
        told = f"{self.where}: {self.what}" if self.where else self.what
        return f"{told} {self.remedy}" if self.remedy else told

    def at(self, where: str) -> "FestoonError":
        """The same error with `where` put before the place it already names."""
        place = f"{where}, {self.where}" if self.where else where
        return type(self)(self.what, where=place, remedy=self.remedy)


class MeasureError(FestoonError):
    """A length, angle, thread or needle number that cannot be read."""


class StitchFileError(FestoonError):
    """A stitch file that cannot be read, or a stitching that a format cannot hold."""


class PieceError(FestoonError):
    """A piece or bench file that cannot be understood, or whose parts contradict each other."""


class HoopingError(FestoonError):
    """Stitching that no hooping can reach."""


class OutputError(FestoonError):
    """A result that could not be written; nothing half-written is left."""


class ProofError(FestoonError):
    """A piece of which the proof says that something in it will not work."""
