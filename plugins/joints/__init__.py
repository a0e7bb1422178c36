"""The joints of the trade: housings, tenons, laps, mitres, dovetails, fasteners and parts that only rest."""

from compiler.api import Plugin, hook
from plugins.joints.butt import Butt, Buttons, Dowels, PocketScrews
from plugins.joints.dovetail import Dovetail, HalfBlindDovetail, LapDovetail
from plugins.joints.fingers import BoxJoint
from plugins.joints.housing import Dado, Groove, Rabbet, Tongue
from plugins.joints.lap import Bridle, HalfLap
from plugins.joints.mitre import Mitre
from plugins.joints.resting import Hang, Rest
from plugins.joints.tenon import LooseTongue, Tenon


@hook
def plugin() -> Plugin:
    return Plugin(contract=1, joint_kinds=(
        BoxJoint, Bridle, Butt, Buttons, Dado, Dovetail, Dowels, Groove, HalfBlindDovetail, HalfLap, Hang, LapDovetail,
        LooseTongue, Mitre, PocketScrews, Rabbet, Rest, Tenon, Tongue,
    ))
