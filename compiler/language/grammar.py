"""The spoken forms of a design, as one grammar: LALR(1) with a contextual lexer, one start rule a form.

In: nothing. Out: the grammar's text and its start rules. No form contains a comma, a colon or a hash, so each may
stand unquoted inside `{ }` and `[ ]`. Characters that word processors put in are folded before it is used.
"""

from __future__ import annotations

FORMS = ("size", "extent", "copies", "tilt", "place", "edge", "sizes", "thing")

RESERVED = (
    "to", "from", "for", "and", "between", "with", "on", "as", "by", "at", "about", "every", "evenly", "centre", "center",
    "centred", "centered", "clear", "mirror", "larger", "smaller", "rounded", "of", "x",
)

_WORD = r"[a-z][a-z0-9]*(-[a-z0-9]+)*"
_FIRST = "|".join(sorted(RESERVED, key=len, reverse=True))
_LATER = _FIRST + "|across|deep|up"

GRAMMAR = rf'''
?size: sum | sum "rounded" WAY? "to" sum  -> rounded
?sum: prod | sum PLUS prod -> total | sum MINUS prod -> total | NEG prod -> negative
?prod: atom | prod TIMES atom -> product | prod OVER atom -> product
?atom: NUMBER UNIT? -> number | FEET -> feet | "(" size ")" -> inner | ref | PICK sum ("and" sum)+ -> pick
ref: NAME ("." NAME)*
thing: NAME ("." NAME)*

extent: "from"? size "to" size            -> from_to
      | "from" size                       -> start
      | "from"? size "for" size           -> start_for
      | "to" size ("for" size)?           -> end
      | "between" thing "and" thing ("with" size "clear")? -> between
      | CENTRED "on" size                 -> centred
      | size CENTRED "on" size            -> centred_for
      | "as" thing                        -> same

copies: "mirror" AXIS ("and" AXIS)*       -> mirror
      | size AXIS "every" size            -> pitch
      | size AXIS "evenly" "between" thing "and" thing -> evenly
      | "with" thing                      -> follow

tilt: FACE "by" size "to" FACE "about" FACE FACE "edge"
place: spot ("and" spot)*
spot: CENTRE AXIS? -> centre | size FROM FACE -> offset | size AT FACE -> offset
edge: ALLROUND FACE -> all_round | FACE FACE -> edge | FACE -> edge
sizes: size "x" size ("x" size)?

WAY: /(up|down)(?![\w-])/
FROM: "from"
AT: "at"
PICK.4: /(larger|smaller) of(?![\w-])/
ALLROUND.4: /all round(?![\w-])/
CENTRED.3: /(centred|centered)(?![\w-])/
CENTRE.3: /(centre|center)(?![\w-])/
AXIS.3: /(across|deep|up)(?![\w-])/
FACE.2: /(left|right|front|back|bottom|top)(?![\w-])/
UNIT: /(mm|cm|in|deg)(?![\w-])|"|°/
FEET.3: /\d+(\.\d+)?'( ?(\d+ \d+\/\d+|\d+\/\d+|\d+(\.\d+)?)"?)?/
NUMBER.2: /\d+ \d+\/\d+(?![\d\/])|\d+\/\d+(?![\d\/])|\d+\.\d+|\.\d+|\d+(?!\d*[ \/]\d|\d)/
PLUS: "+"
TIMES: "*" | "×"
OVER: "/" | "÷"
MINUS: /(?<= )-(?= )/
NEG: /-(?=[^ ])/
NAME.1: /(?!({_FIRST})(?![\w-])){_WORD}( (?!({_LATER})(?![\w-]))({_WORD}|\d+(?![\d\/]| \d+\/)))*/
%ignore / +/
'''
