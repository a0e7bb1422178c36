"""Parts that rest or hang on each other: nothing is cut, grown or glued."""

from compiler.api import Contact, Joint, Work


class Hang(Joint):
    """A part hung on another, as a cabinet on its wall rail: touching or hooked over it."""

    kind, how, leans = "hang", "on", True

    def make(self, c: Contact) -> Work:
        return Work(glue=False)


class Rest(Joint):
    """A part that lies loose on another."""

    kind, how, leans = "rest", "on", True

    def make(self, c: Contact) -> Work:
        return Work(glue=False)
