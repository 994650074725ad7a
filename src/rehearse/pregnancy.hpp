// A simulated pregnancy: what is true, and what a breeder might write down of it.
#pragma once

#include <optional>
#include <string>

#include "record/litter.hpp"
#include "reference/tables.hpp"
#include "rehearse/dice.hpp"

namespace lampside::rehearse {

/// How the simulated world differs from the one the forecast believes in.
struct World {
  double stretch = 1;   ///< every spread times this
  double gross = 0.03;  ///< share of dated clues that are simply wrong
};

struct Pregnancy {
  Instant lh, dioestrus, whelping;
  int pups;
  double habit_d;    ///< how this bitch differs from others, lastingly
  double scan_bias;  ///< shared by all scans of one measure, in units of its spread
  double assay_ln;   ///< shared by all readings of the laboratory
  double late_ln;    ///< her own level of progesterone in the last days
  bool no_fall;      ///< no fall of it, if there are but one or two pups
  double level_c, swing_c, drop_c;
  std::optional<Instant> last_temperature;
};

/// Draws pregnancies and notes clues about them in a litter, each from the same numbers the forecast reads.
class Simulator {
 public:
  Simulator(const reference::Reference& reference, World world, Dice& dice)
      : reference_{reference}, world_{world}, dice_{dice} {}

  /// Of that breed (a name of the tables, or any other), the surge in the ten days after `from`.
  Pregnancy pregnancy(std::string_view breed, Instant from);
  static record::Litter litter(std::string_view breed, double kg);

  // Each notes what was seen. Dates may be grossly wrong, with the world's chance.
  void matings(record::Litter& litter, const Pregnancy& p, int times, bool timed);
  void lh_surge(record::Litter& litter, const Pregnancy& p);
  void ovulation(record::Litter& litter, const Pregnancy& p);
  void dioestrus(record::Litter& litter, const Pregnancy& p);
  /// Every `every` days from before the surge until a reading passes 5 ng/ml. Grossly wrong: nmol/l noted as ng/ml.
  void progesterone(record::Litter& litter, const Pregnancy& p, double every_d);
  void late_progesterone(record::Litter& litter, const Pregnancy& p, Instant at);
  void scan(record::Litter& litter, const Pregnancy& p, std::string_view measure, Instant at);
  void xray(record::Litter& litter, const Pregnancy& p, Instant at);
  /// Readings must be drawn in the order of time.
  void temperature(record::Litter& litter, Pregnancy& p, Instant at);
  /// Signs of every kind in the ten days before whelping, up to `until`.
  void signs(record::Litter& litter, const Pregnancy& p, Instant until);
  void earlier_litter(record::Litter& litter, const Pregnancy& p);

 private:
  double value(std::string_view name) const;
  /// A spread in the simulated world.
  double spread(std::string_view name) const { return value(name) * world_.stretch; }
  Instant maybe_astray(Instant at);
  /// The day a date was judged to be, as forms write it: its noon. The spread, in days, has the day's own width in it.
  Instant judged_day(const record::Litter& litter, Instant truth, double sd_d);

  const reference::Reference& reference_;
  World world_;
  Dice& dice_;
};

}  // namespace lampside::rehearse
