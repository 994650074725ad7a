#include "nest/lamp.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>

#include "reference/rules.hpp"

namespace lampside::nest {
namespace {

using record::AirPlace;
using record::Litter;
using record::Probe;
using record::Pup;
using record::Sign;
using reference::Assessed;
using reference::days_between;
using reference::Finding;
using reference::NotAssessed;
using reference::parameter;
using reference::Reference;
using reference::value_of;
using std::chrono::hours;

constexpr Span kRoomLasts = hours{6}, kRoomBeside = hours{3}, kCountsFor = hours{3}, kLyingLasts = hours{2},
               kMatLasts = hours{6}, kWarmingSeen = hours{6};
/// A thermometer's and a tape's honest error: of a rise in °C, and of the whole as a share.
constexpr double kRiseSd = 1.0, kShareSd = 0.1;
/// Of a normal spread, what holds nine in ten.
constexpr double kNineInTen = 1.645;

const record::Noted<record::Lamp>* lamp_at(const Litter& litter, Instant at) {
  const record::Noted<record::Lamp>* last = nullptr;
  for (const auto& l : litter.lamps)
    if (l.at <= at) last = &l;
  return last && !last->what.off.value_or(false) ? last : nullptr;
}

Span settles(const Reference& reference) {
  return Span{std::llround(parameter(reference, "lamp_settles_min") * 60'000)};
}

/// Of the box the last reading at that place.
const record::Noted<record::Air>* last_air(const Litter& litter, AirPlace where, Instant now) {
  const record::Noted<record::Air>* last = nullptr;
  for (const auto& a : litter.air)
    if (a.what.where == where && a.at <= now) last = &a;
  return last;
}

/// Unsaid, it is taken for flat: that reads higher, so the lamp is hung higher.
Probe probe_of(const record::Air& air) { return air.probe.value_or(Probe::flat); }

Centimetres height_for(CelsiusDelta rise, Watts watts, Probe probe, double factor, const Reference& reference) {
  const double at_a_metre = factor * lamp_rise(watts, Centimetres{100}, probe, reference).count();
  return Centimetres{100 * std::sqrt(at_a_metre / rise.count())};
}

Hang hang(Celsius room, const BoxTarget& target, Watts watts, Probe probe, const LampFit& fit,
          const Reference& reference) {
  const Celsius middle{(target.low.count() + target.high.count()) / 2};
  const Centimetres least{std::max(parameter(reference, "lamp_bedding_cm"), parameter(reference, "lamp_least_cm"))};
  const auto at = [&](double factor) { return height_for(middle - room, watts, probe, factor, reference); };
  const Centimetres wanted = at(fit.factor), height = std::max(wanted, least);
  return {room,
          height,
          std::max(at(fit.low), least),
          std::max(at(fit.high), least),
          wanted < least,
          room + lamp_rise(watts, height, probe, reference) * fit.factor,
          height * (2 * parameter(reference, "lamp_spot"))};
}

}  // namespace

CelsiusDelta lamp_rise(Watts watts, Centimetres height, Probe probe, const Reference& reference) {
  const auto value = [&](const char* name) { return parameter(reference, name); };
  const double metres = std::max(height.count(), value("lamp_point_from_cm")) / 100;
  const double irradiance = value("lamp_sr_per_w") * watts.count() / (metres * metres);
  const double takes = value(probe == Probe::flat ? "lamp_flat_takes" : "lamp_globe_takes");
  return CelsiusDelta{takes * irradiance / (value("lamp_radiative") + value("lamp_convective"))};
}

LampFit fit_lamp(const std::vector<LampReading>& readings, const Reference& reference) {
  const double wide = std::log(parameter(reference, "lamp_factor"));
  // The guess counts as one reading whose nine in ten are that factor either way.
  const double guess = kNineInTen / wide * (kNineInTen / wide);
  struct Weighed {
    double log_ratio, weight;
  };
  std::vector<Weighed> all;
  for (const auto& r : readings) {
    const double rise = (r.under - r.room).count();
    if (!(rise > kRiseSd)) continue;  // the lamp does not show in it
    const double sd = std::hypot(kRiseSd / rise, kShareSd);
    all.push_back({std::log(rise / lamp_rise(r.watts, r.height, r.probe, reference).count()), 1 / (sd * sd)});
  }
  double sum = 0, weights = guess;
  for (const auto& w : all) sum += w.weight * w.log_ratio, weights += w.weight;
  const double middle = sum / weights;
  double half = wide;
  if (all.size() >= 3) {
    double misfit = 0;
    for (const auto& w : all) misfit += w.weight * (w.log_ratio - middle) * (w.log_ratio - middle);
    const double scatter = std::max(1.0, misfit / static_cast<double>(all.size() - 1));
    // The tape and the place of the probe are wrong in the same way each time: a night of readings does not average
    // that away, so the range never narrows under their share.
    half = std::clamp(kNineInTen * std::sqrt(scatter / weights), kNineInTen * kShareSd, wide);
  }
  return {std::exp(middle), std::exp(middle - half), std::exp(middle + half), static_cast<int>(all.size())};
}

std::vector<LampReading> lamp_readings(const Litter& litter, const Reference& reference, Instant now) {
  std::vector<LampReading> out;
  // A sensor writes hundreds a day: the room's reading beside each is looked up, not looked for.
  std::vector<const record::Noted<record::Air>*> rooms;
  for (const auto& a : litter.air)
    if (a.what.where == AirPlace::room && a.at <= now) rooms.push_back(&a);
  for (const auto& a : litter.air) {
    if (a.what.where != AirPlace::under_lamp || a.at > now) continue;
    const auto* lamp = lamp_at(litter, a.at);
    if (!lamp || a.at - lamp->at < settles(reference)) continue;
    const auto after =
        std::lower_bound(rooms.begin(), rooms.end(), a.at, [](const auto* r, Instant at) { return r->at < at; });
    const record::Noted<record::Air>* room = nullptr;
    for (const auto* r :
         {after == rooms.begin() ? nullptr : *std::prev(after), after == rooms.end() ? nullptr : *after})
      if (r && std::chrono::abs(r->at - a.at) <= kRoomBeside &&
          (!room || std::chrono::abs(r->at - a.at) < std::chrono::abs(room->at - a.at)))
        room = r;
    if (room) out.push_back({lamp->what.watts, lamp->what.cm, a.what.celsius, room->what.celsius, probe_of(a.what)});
  }
  return out;
}

Assessed<LampAdvice> lamp_advice(const Litter& litter, const Reference& reference, Instant now) {
  const NestState nest = state(litter, reference, now);
  const auto* target = value_of(nest.target);
  if (!target) return std::get<NotAssessed>(nest.target);
  const auto* lamp = lamp_at(litter, now);
  if (!lamp && !litter.lamps.empty() && litter.lamps.front().at <= now)
    return NotAssessed{"LAMP_OFF", "the lamp is written down as off"};
  if (!lamp) return NotAssessed{"NO_DATA", "no lamp is written down: its watts, and how high it hangs"};
  if (lamp->what.watts.count() > parameter(reference, "lamp_most_w"))
    return NotAssessed{"LAMP_STRONG", fmt::format("{} W is more than {} W: nothing is worked out for such a lamp",
                                                  say_number(lamp->what.watts.count(), 0),
                                                  say_number(parameter(reference, "lamp_most_w"), 0))};
  const auto* room = last_air(litter, AirPlace::room, now);
  if (!room) return NotAssessed{"NO_DATA", "the room's warmth is not written down, read away from the lamp"};
  if (now - room->at >= kRoomLasts)
    return NotAssessed{"STALE", fmt::format("the room was last read on {}", say_day_time(litter.zone, room->at))};
  if (room->what.celsius >= target->low)
    return NotAssessed{"NOT_NEEDED", "the room is as warm as the box should be: no lamp"};
  const auto* under = last_air(litter, AirPlace::under_lamp, now);
  const Probe probe = under ? probe_of(under->what) : Probe::flat;
  const LampFit fit = fit_lamp(lamp_readings(litter, reference, now), reference);
  LampAdvice out{
      lamp->what.watts, probe, *target, fit, hang(room->what.celsius, *target, lamp->what.watts, probe, fit, reference),
      room->at,         {}};
  const double here = std::round(room->what.celsius.count());
  for (const double by : {-4.0, -2.0, 2.0, 4.0})
    if (const Celsius other{here + by}; other < target->low)
      out.if_room.push_back(hang(other, *target, out.watts, probe, fit, reference));
  return out;
}

WarmthDay warmth_day(const Litter& litter, const Reference& reference, AirPlace where, Instant now) {
  WarmthDay out;
  const Instant from = now - hours{24};
  std::vector<const record::Noted<record::Air>*> readings;
  for (const auto& a : litter.air)
    if (a.what.where == where && a.at <= now) readings.push_back(&a);
  for (std::size_t i = 0; i < readings.size(); ++i) {
    const auto& a = *readings[i];
    const Instant begins = std::max(a.at, from),
                  ends = std::min({i + 1 < readings.size() ? readings[i + 1]->at : now, a.at + kCountsFor, now});
    if (ends <= begins) continue;
    const NestState then = state(litter, reference, a.at);
    const auto* target = value_of(then.target);
    if (!target) continue;
    Span& into = a.what.celsius < target->low ? out.below : a.what.celsius > target->high ? out.above : out.within;
    into += ends - begins;
  }
  return out;
}

std::vector<Rewarming> rewarming(const Litter& litter, const Reference& reference, Instant now) {
  std::vector<Rewarming> out;
  for (const Pup& pup : litter.pups) {
    if (!pup.in_box()) continue;
    const record::Noted<record::Temperature>* last = nullptr;
    for (const auto& t : pup.temperatures)
      if (t.at <= now) last = &t;
    if (!last || now - last->at >= hours{24}) continue;
    const auto* limit = cold_limit(reference, days_between(pup.birth.at, last->at));
    if (!limit || !reached(*limit, last->what.celsius)) continue;
    const double rate = parameter(reference, "rewarm_c_h");
    const double away = (limit->limit - last->what.celsius).count();
    out.push_back({pup.label, last->what.celsius, limit->limit, last->at, last->at + hours{1},
                   last->what.celsius + CelsiusDelta{rate},
                   last->at + Span{std::llround(std::max(0.0, away) / rate * 3'600'000)}});
  }
  return out;
}

namespace {

class Look {
 public:
  Look(const Litter& litter, const Reference& reference, Instant now)
      : litter_{litter}, reference_{reference}, now_{now}, unit_{litter.units().temperature} {}

  std::vector<Finding> all() {
    const auto first = litter_.first_birth();
    const bool here = std::any_of(litter_.pups.begin(), litter_.pups.end(), [](const Pup& p) { return p.in_box(); });
    if (first && *first <= now_ && here) {
      lamp();
      mat();
      lying();
    }
    for (const Pup& pup : litter_.pups)
      if (pup.in_box()) warmed(pup);
    return std::move(out_);
  }

 private:
  std::string when(Instant t) const { return say_day_time(litter_.zone, t); }
  void once(const char* code, std::string about, std::string because, std::optional<Instant> since) {
    if (const auto* rule = reference::rule_of(reference_.count_rules, code))
      out_.push_back(reference::found(*rule, std::move(about), std::move(because), since));
  }

  void lamp() {
    const auto* lamp = lamp_at(litter_, now_);
    if (!lamp) return;
    const double cm = lamp->what.cm.count(), watts = lamp->what.watts.count();
    const double least = parameter(reference_, "lamp_least_cm"), most = parameter(reference_, "lamp_most_w");
    if (cm < least)
      once("LAMP_CLOSE", "box",
           fmt::format("{} cm above the pups, written down on {}; at least {} cm", say_number(cm, 0), when(lamp->at),
                       say_number(least, 0)),
           lamp->at);
    if (watts > most)
      once("LAMP_STRONG", "box", fmt::format("{} W; at most {} W", say_number(watts, 0), say_number(most, 0)),
           lamp->at);
    const auto* under = last_air(litter_, AirPlace::under_lamp, now_);
    const bool read = under && under->at - lamp->at >= settles(reference_);
    if (read || now_ - lamp->at >= hours{24}) return;
    if (const auto* rule = reference::worst_reached(reference_.span_rules, "LAMP_UNREAD",
                                                    std::chrono::floor<Minutes>(now_ - lamp->at)))
      out_.push_back(
          reference::found(*rule, "box",
                           fmt::format("the lamp was written down on {}, {} W at {} cm; no reading under it since",
                                       when(lamp->at), say_number(watts, 0), say_number(cm, 0)),
                           lamp->at));
  }

  void mat() {
    const auto* bare = last_air(litter_, AirPlace::mat, now_);
    if (!bare || now_ - bare->at >= kMatLasts) return;
    if (const auto* rule = reference::worst_reached(reference_.temperature_rules, "MAT_HOT", bare->what.celsius))
      out_.push_back(reference::found(
          *rule, "box", fmt::format("{} on the bare mat on {}", say(bare->what.celsius, unit_), when(bare->at)),
          bare->at));
  }

  void lying() {
    const record::Noted<record::SignSeen>* last = nullptr;
    for (const auto& s : litter_.box_signs)
      if (s.at <= now_) last = &s;
    if (!last || now_ - last->at >= kLyingLasts) return;
    const bool piled = last->what.sign == Sign::piled_up;
    once(piled ? "PUPS_PILED" : "PUPS_SPREAD", "box",
         fmt::format("{} on {}", piled ? "piled up" : "spread out", when(last->at)), last->at);
  }

  void warmed(const Pup& pup) {
    const auto& all = pup.temperatures;
    double fastest = 0;
    std::string told;
    Instant at{};
    for (std::size_t i = 1; i < all.size(); ++i) {
      const auto &was = all[i - 1], &is = all[i];
      if (is.at > now_ || now_ - is.at >= kWarmingSeen || is.at - was.at >= kWarmingSeen) continue;
      const auto* limit = cold_limit(reference_, days_between(pup.birth.at, was.at));
      if (!limit || !reached(*limit, was.what.celsius)) continue;
      // Two readings within minutes tell of the thermometer, not of the pup.
      const double h = std::max(0.5, std::chrono::duration<double, std::ratio<3600>>(is.at - was.at).count());
      const double rate = (is.what.celsius - was.what.celsius).count() / h;
      if (rate <= fastest) continue;
      fastest = rate, at = is.at;
      told = fmt::format("from {} to {} in {}", say(was.what.celsius, unit_), say(is.what.celsius, unit_),
                         say_span(is.at - was.at));
    }
    constexpr double kDust = 1e-9;  // 34.0 to 35.0 °C in an hour is the rate that is allowed
    if (fastest > parameter(reference_, "rewarm_harm_c_h") + kDust)
      once("REWARM_HARM", pup.label, told, at);
    else if (fastest > parameter(reference_, "rewarm_c_h") + kDust)
      once("REWARM_FAST", pup.label, told, at);
  }

  const Litter& litter_;
  const Reference& reference_;
  Instant now_;
  TemperatureUnit unit_;
  std::vector<Finding> out_;
};

}  // namespace

std::vector<Finding> lamp_findings(const Litter& litter, const Reference& reference, Instant now) {
  return Look{litter, reference, now}.all();
}

}  // namespace lampside::nest
