"""Damages in our own words: what they are called, what they look like, what is no cause of the mounting."""

from collections.abc import Mapping
from dataclasses import dataclass

from django.utils.translation import gettext_noop as _


@dataclass(frozen=True)
class DamageWords:
    name: str
    looks: str
    elsewhere: str
    """What else makes it, outside of any mounting; to be ruled out first."""


DAMAGE_WORDS: Mapping[str, DamageWords] = {
    "flaking-all-round": DamageWords(
        _("flaking all round the inner ring, early"),
        _("deep flakes in a wide track, both sides loaded"),
        _("overload; a wrong calculation of life"),
    ),
    "oblique-track": DamageWords(
        _("track runs oblique, or is worn at two opposite arcs"),
        _("the track wanders across the ring, or is oval"),
        _("bent shaft; housings not in line"),
    ),
    "one-sided-track": DamageWords(
        _("track on one side only, in both bearings"),
        _("the track is shoved to one shoulder"),
        _("thrust from the coupling"),
    ),
    "grey-micro-pits": DamageWords(
        _("grey surface with fine pits"),
        _("frosted, many fine pits"),
        _("film of lubricant too thin; water"),
    ),
    "lapped-dull": DamageWords(
        _("worn dull, as if lapped"),
        _("dull surfaces, rolling elements smaller"),
        _("worn seal; dirty lubricant"),
    ),
    "smeared": DamageWords(
        _("smeared rollers or flange"),
        _("torn and glazed patches"),
        _("load too light; fast start"),
    ),
    "ring-turned-on-shaft": DamageWords(
        _("inner ring turned on the shaft"),
        _("bore polished or scored, a blue band, the ring has turned"),
        _("load turns otherwise than it was designed for"),
    ),
    "rust": DamageWords(
        _("rust from moisture"),
        _("rust specks, or etched bands at the pitch of the elements"),
        _("water that condenses in service"),
    ),
    "fretting-rust-in-bore": DamageWords(
        _("fretting rust in bore or seat"),
        _("red-brown or black powder, seat marked crosswise"),
        _("shaft bends"),
    ),
    "dents-without-rim": DamageWords(
        _("shallow dents at the pitch of the elements, no raised rim"),
        _("polished or red, without a rim, made by standing and shaking"),
        _("a machine that shakes beside it in service"),
    ),
    "fluting-craters": DamageWords(
        _("craters or flutes from electric current"),
        _("small craters, a washboard, a grey track"),
        _("current of an inverter; welding through the bearing: not made by mounting"),
    ),
    "dents-at-pitch": DamageWords(
        _("dents at the pitch of the elements, with raised rims"),
        _("evenly spaced, deeper on one arc"),
        _("shock load; a fall in service"),
    ),
    "axial-scratches": DamageWords(
        _("scratches along the axis on rollers or raceway"),
        _("lines at the pitch of the rollers"),
        _("nothing else is known to make them"),
    ),
    "scattered-dents": DamageWords(
        _("small dents, scattered"),
        _("bruised all over by particles"),
        _("seal; filter"),
    ),
    "chipped-rim": DamageWords(
        _("rim or flange chipped"),
        _("bright break, marks of blows"),
        _("damage by taking it off: ask how it came off"),
    ),
    "crack-through-inner-ring": DamageWords(
        _("axial crack through the inner ring"),
        _("smooth at first, then rough; fretting in the bore where it begins"),
        _("a pit of corrosion; the steel"),
    ),
    "heat-cracks": DamageWords(
        _("cracks from heat, blue rings"),
        _("cracks across marks of rubbing, colours from brown to blue"),
        _("seized in service: then track and cage are coloured too"),
    ),
    "cage-broken": DamageWords(
        _("cage broken or its pockets worn"),
        _("debris, elements bunched together"),
        _("speed; lubrication"),
    ),
    "hot-from-day-one": DamageWords(
        _("runs hot from the first day"),
        _("nothing to be seen yet"),
        _("level of the oil"),
    ),
    "pair-reversed": DamageWords(
        _("pair reversed or mixed up"),
        _("one bearing without a mark of load, the other overloaded"),
        _("nothing else is known to make it"),
    ),
    "none of these": DamageWords(_("none of these"), _("say in words what is seen"), _("not known")),
}
