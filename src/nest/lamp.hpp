// The heat lamp: how high to hang it for the warmth wanted, learnt from the keeper's own readings. The thermometer
// decides, not the sum.
#pragma once

#include <optional>
#include <vector>

#include "nest/nest.hpp"

namespace lampside::nest {

/// A lamp as it hung, what lay under it, and the room.
struct LampReading {
  Watts watts;
  Centimetres height;  ///< above the pups
  Celsius under, room;
  record::Probe probe;
};

/// How warm a body under the lamp becomes above the room's air, learnt or not.
struct LampFit {
  double factor;  ///< by which the sum is multiplied; 1 before any reading
  double low, high;
  int readings;
};
/// Rise above the room's air of a body on the lamp's axis, by the sum alone: intensity x watts / height² x what the
/// body takes up / (radiative + convective coefficient). Nearer than 45 cm the square law reads too much and is cut.
/// Source: reference/lamp_parameters.toml; EN ISO 6946 for the coefficients.
CelsiusDelta lamp_rise(Watts watts, Centimetres height, record::Probe probe, const reference::Reference& reference);
/// Least squares on the log of rise over sum, each reading weighed by what 1 °C is of its rise; the sum itself stands
/// in as a guess that is good to `lamp_factor`. Until three readings are in, the range stays that factor either way;
/// however many there are, it keeps the error that all of them share.
LampFit fit_lamp(const std::vector<LampReading>& readings, const reference::Reference& reference);

struct Hang {
  Celsius room;
  Centimetres height;             ///< never under the clearance to bedding
  Centimetres nearest, farthest;  ///< where the middle of the target may really lie
  bool at_clearance;              ///< the target asks for less: the room is too cold for this lamp
  Celsius reaches;                ///< what is foreseen at `height`
  Centimetres spot;               ///< across, within which at least half of the warmth arrives
};
struct LampAdvice {
  Watts watts;
  record::Probe probe;
  BoxTarget target;
  LampFit fit;
  Hang now;  ///< at the room's last reading
  Instant room_at;
  std::vector<Hang> if_room;  ///< at other warmths of the room, cooler ones first
};
/// For any input never nearer than the clearance, never for a lamp of more than 250 W.
/// Not assessed: NO_DATA (no pup, no lamp, no reading of the room), NO_REFERENCE, STALE (the room's reading is older
/// than six hours), LAMP_STRONG, LAMP_OFF, NOT_NEEDED (the room is as warm as the box should be).
reference::Assessed<LampAdvice> lamp_advice(const record::Litter& litter, const reference::Reference& reference,
                                            Instant now);
/// The readings a lamp is learnt from: it had hung for half an hour, and the room was read within three hours.
std::vector<LampReading> lamp_readings(const record::Litter& litter, const reference::Reference& reference,
                                       Instant now);

/// How long the box was under, in and above its target, by the readings of the last 24 hours; each counts until the
/// next, at most three hours.
struct WarmthDay {
  Span below{0}, within{0}, above{0};
  [[nodiscard]] Span known() const { return below + within + above; }
};
WarmthDay warmth_day(const record::Litter& litter, const reference::Reference& reference, record::AirPlace where,
                     Instant now);

/// A cold pup on its way up.
struct Rewarming {
  std::string label;
  Celsius last, aim;  ///< `aim`: where feeding may begin
  Instant at, check;  ///< the last reading, and when the next is due
  Celsius at_most;    ///< what it may show at `check`
  Instant earliest;   ///< when it may be warm enough, at that rate
};
std::vector<Rewarming> rewarming(const record::Litter& litter, const reference::Reference& reference, Instant now);

/// Lamp too near, too strong or unread; mat too hot; pups piled up or spread out; warmed too fast.
std::vector<reference::Finding> lamp_findings(const record::Litter& litter, const reference::Reference& reference,
                                              Instant now);

}  // namespace lampside::nest
