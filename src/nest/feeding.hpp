// Feeding a pup by hand: whether, how much, how often, when next; and what forbids it.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "growth/standing.hpp"
#include "nest/milk.hpp"

namespace lampside::nest {

/// A day's milk at one line of energy, cut into feeds.
struct Ration {
  KcalPer100g need;
  Kilocalories kcal;  ///< a day
  Millilitres day;    ///< of this milk
  Millilitres room;   ///< of the stomach, for one feed
  int feeds;          ///< the table's, or more where the room asks for it
  bool room_binds;    ///< there are more feeds than the table's because of the room
  Millilitres exact;  ///< one feed: day / feeds, never over the room
  Millilitres each;   ///< down to a mark of the smallest syringe that holds it
  Millilitres mark;
};
/// Steps: day = weight/100 g x need / density; room = 4 ml for each 100 g; feeds = the greater of the table's and
/// day/room, rounded up; one feed = day/feeds, down to a mark. Rounding down is ours (docs/decisions/0013-round-down).
/// Not assessed: LESS_THAN_A_MARK.
/// Tested: tests/nest/feeding_published_test.cpp (every printed example), tests/nest/feeding_property_test.cpp.
reference::Assessed<Ration> ration(Grams pup, KcalPer100g need, KcalPerMl milk, int table_feeds,
                                   const reference::Reference& reference);

/// The two printed lines at an age, and the one followed at `rise` (0 low, 1 high) between them.
struct Lines {
  KcalPer100g low, high, most;  ///< `most`: the upper end the high line's source prints
  reference::Citation low_source, high_source;
  [[nodiscard]] KcalPer100g at(double rise) const { return low + (high - low) * rise; }
};
std::optional<Lines> lines_at(double age_d, const reference::Reference& reference);
/// The feeds a day that are followed at that age; null after four weeks.
const reference::FeedingTimes* times_at(double age_d, bool weak, const reference::Reference& reference);

/// Energy one pup fed only by hand needs from day `from` to the end of day `to` - 1 of its life, on the high line: for
/// buying, weeks ahead. Its weight on each day by the growth of hand-fed pups (reference/feeding_weeks.toml).
Kilocalories full_feeding(Grams birth, int from, int to, const reference::Reference& reference);

/// Why nothing may be fed now, or not this way. The codes are those of the findings that say so.
struct Stop {
  std::string_view code;  ///< FEED_COLD, FEED_NO_SUCK, FEED_TAUT, FEED_TUBE
  std::string why;
  std::optional<Instant> since;
};

struct Plan {
  growth::SoundWeight weight;
  Ration low, high, today;  ///< of the share the pup gets by hand
  double rise;              ///< 0 on the low line, 1 on the high one
  std::string rise_says;    ///< "day 2 of 3 from the low line to the high one"
  reference::Citation low_source, high_source, times_source;
};

/// What was fed by hand in the last 24 hours.
struct Fed {
  int feeds = 0, without_energy = 0;  ///< of how many the milk's energy is not known: then `kcal` is too little
  Millilitres ml{0};
  Kilocalories kcal{0};
};

/// The hours in which the gut takes in what guards a newborn, by the two sources that differ.
struct Colostrum {
  Instant closing, ends_early, ends_late;
  Millilitres meal;  ///< 0 where it is not weighed
  bool suckled;
};

struct PupFeeding {
  std::string label;
  /// The keeper's word if there is one, else what is advised.
  record::FeedShare share = record::FeedShare::none;
  bool keepers = false;
  std::optional<record::FeedWay> way;
  std::optional<Instant> since;  ///< fed by hand without a break since then, by the keeper's word
  record::FeedShare advised = record::FeedShare::none;
  std::string because;           ///< of what is advised, with its numbers
  reference::Citation source{};  ///< of it; empty where nothing is advised
  reference::Assessed<Plan> plan = reference::NotAssessed{"NOT_FED", "it is not fed by hand"};
  std::vector<Stop> stops;
  bool loose_stool = false;               ///< noted in the last 24 hours
  std::optional<Instant> temperature_at;  ///< the last one taken
  std::optional<Instant> last, next;      ///< feed by hand
  Fed fed;
  std::optional<Colostrum> colostrum;  ///< in the first 24 hours
};

struct Feeding {
  reference::Assessed<Milk> milk = reference::NotAssessed{"NO_MILK", "no milk is written down"};
  std::optional<std::string> tube_shown_by;  ///< the vet who showed the keeper tube feeding
  std::string line = "rise";                 ///< the keeper's choice: "low", "high", or "rise" from one to the other
  std::vector<PupFeeding> pups;              ///< those in the box, by birth

  [[nodiscard]] const PupFeeding* of(std::string_view label) const;
};

/// One walk to the box with the bottle: pups whose feeds fall within half an hour of the first.
struct FeedRound {
  Instant at;
  std::vector<std::string> pups;
};
/// From the last one that is due, or the next, to 24 hours from now, as if each is given when it is due. Only pups the
/// keeper feeds by hand, with an amount and nothing that forbids it.
std::vector<FeedRound> feed_rounds(const Feeding& feeding, Instant now);

/// `found`: what the other rooms found of the pups; the decision leans on the weights' findings.
Feeding feeding(const record::Litter& litter, const reference::Reference& reference, Instant now,
                std::span<const growth::Standing> standings, std::span<const growth::Doubt> doubts,
                std::span<const reference::Finding> found);

/// A feed is due or late; it cannot be given, or not worked out; too much at once or in a day, too little in a day.
std::vector<reference::Finding> findings(const Feeding& feeding, const record::Litter& litter,
                                         const reference::Reference& reference, Instant now);

}  // namespace lampside::nest
