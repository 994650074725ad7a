// The words an entry chooses from; their JSON names stand in names.hpp.
#pragma once

namespace lampside::record {

enum class MatingMethod { natural, fresh, chilled, frozen };
enum class CountMethod { xray, ultrasound };
enum class Anchor { ovulation, lh_surge, mating };
enum class Sex { female, male };
enum class Presentation { head_first, tail_first };
enum class FeedWay { nursing, bottle, syringe, tube, spoon };
/// Whether a figure on a label counts the active itself or its salt (pyrantel, or pyrantel embonate).
enum class Basis { base, salt };
enum class ProductUse { wormer, other };
enum class AirPlace { under_lamp, cool_end, room, basket, mat };
/// What lies in the lamp's beam as the thermometer: a flat body takes up far more of it than a globe.
enum class Probe { flat, globe };
enum class Sign {
  nesting,
  panting,
  shivering,
  off_food,
  vomiting,
  mucus,
  waters,
  green_discharge,
  bleeding,
  foul_discharge,
  weak_straining,
  strong_straining,
  straining_stopped,
  pup_visible,
  collapse,
  twitching,
  hard_hot_teat,
  lochia,         ///< the ordinary flow after whelping, red-brown
  neglects_pups,  ///< she leaves or pushes away her pups
  settled,
  no_suck,  ///< a pup's: the finger is not sucked
  sucks_well,
  belly_taut,
  belly_soft,
  loose_stool,
  piled_up,   ///< of the pups in the box: cold
  spread_out  ///< away from each other and from the warmth: hot
};
/// How much of its milk a pup gets by hand.
enum class FeedShare { none, top_up, full };
enum class FamilyStatus { waiting, withdrawn, placed };
enum class PickOrder { deposit, match };
enum class ChoiceMade { pick, pass, release };
enum class MoneyWay { in, out };
/// What the keeper says of the labour where the signs say otherwise.
enum class LabourStage { before, first_stage, straining, between_pups, done };
/// Where a thing is: in the kit beside the bed, somewhere in the house, still to be made, or still to be bought.
enum class Keeping { kit, house, to_make, to_buy };

}  // namespace lampside::record
