#include "nest/sensor.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <nlohmann/json.hpp>

#include "reference/rules.hpp"

namespace lampside::nest {
namespace {

using record::AirPlace;
using record::Json;
using record::Litter;
using reference::Finding;
using reference::found;
using reference::parameter;
using reference::Reference;
using reference::rule_of;
using std::chrono::hours;

/// No sensor of a room has more to say; a longer message is somebody else's.
constexpr std::size_t kLongestMessage = 16 * 1024;
/// Trouble is told of for so long after the last message that could not be used.
constexpr Span kTroubleLasts = Minutes{30};

Span minutes_of(const Reference& reference, std::string_view name) {
  return Span{std::llround(parameter(reference, name) * 60'000)};
}

std::string excerpt(std::string_view payload) {
  std::string out;
  for (const char c : payload.substr(0, 40)) out += c >= ' ' && c <= '~' ? c : '?';
  return out + (payload.size() > 40 ? "..." : "");
}

/// "temperature" as it stands, else "air.temperature" step by step.
const Json* field_of(const Json& object, std::string_view name) {
  if (!object.is_object()) return nullptr;
  if (const auto whole = object.find(name); whole != object.end()) return &*whole;
  const auto dot = name.find('.');
  if (dot == std::string_view::npos) return nullptr;
  const auto part = object.find(name.substr(0, dot));
  return part == object.end() ? nullptr : field_of(*part, name.substr(dot + 1));
}

std::optional<Instant> said_in(const Json& object) {
  for (const char* name : {"time", "timestamp", "ts"}) {
    const auto at = object.find(name);
    if (at == object.end()) continue;
    if (at->is_string()) {
      if (const auto stamp = parse_stamp(at->get<std::string>())) return stamp->instant;
    } else if (at->is_number()) {
      const double n = at->get<double>();
      // From 1973 on milliseconds have eleven digits before the point; seconds get there in the year 5138.
      const double ms = n < 1e11 ? n * 1000 : n;
      if (ms > 0 && ms < 1e14) return Instant{Span{std::llround(ms)}};
    }
  }
  return std::nullopt;
}

Celsius in_unit(double number, TemperatureUnit unit) {
  return unit == TemperatureUnit::fahrenheit ? from_fahrenheit(number) : Celsius{number};
}

/// As programs write numbers ("-0.5", "21.437500000000001"), else as people do ("21,4", "70 F").
std::optional<Celsius> written(std::string_view text, TemperatureUnit unit) {
  constexpr std::string_view kWhite = " \t\r\n";
  const auto from = text.find_first_not_of(kWhite);
  if (from == std::string_view::npos) return std::nullopt;
  text = text.substr(from, text.find_last_not_of(kWhite) + 1 - from);
  double number = 0;
  const auto [end, ec] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (ec == std::errc{} && end == text.data() + text.size())
    return std::isfinite(number) ? std::optional{in_unit(number, unit)} : std::nullopt;
  const auto typed = parse_temperature(text, unit);
  return typed ? std::optional{*typed} : std::nullopt;
}

}  // namespace

Result<SensorMessage> read_message(const record::Sensor& sensor, std::string_view payload, const Reference& reference) {
  if (payload.size() > kLongestMessage)
    return problem("SENSOR_TOO_LONG", fmt::format("it sent {} bytes", payload.size()), "check the topic");
  const auto unit = sensor.unit.value_or(TemperatureUnit::celsius);
  std::optional<Celsius> read;
  std::optional<Instant> said;
  if (sensor.field) {
    const auto object = Json::parse(payload, nullptr, false);
    if (!object.is_object())
      return problem("SENSOR_NOT_JSON", fmt::format("it sent \"{}\", which is no JSON object", excerpt(payload)),
                     "leave the field empty if it sends a plain number");
    const auto* value = field_of(object, *sensor.field);
    if (!value)
      return problem("SENSOR_NO_FIELD", fmt::format("it sent no \"{}\": {}", *sensor.field, excerpt(payload)),
                     "name the field as it stands in its message");
    if (value->is_number())
      read = in_unit(value->get<double>(), unit);
    else if (value->is_string())
      read = written(value->get<std::string>(), unit);
    said = said_in(object);
  } else {
    read = written(payload, unit);
  }
  if (!read)
    return problem("SENSOR_NOT_NUMBER", fmt::format("it sent \"{}\", which is no temperature", excerpt(payload)),
                   "name the field its JSON keeps the temperature in, or the topic that carries it alone");
  const Celsius t = *read;
  if (!(t.count() >= parameter(reference, "sensor_lowest_c") && t.count() <= parameter(reference, "sensor_highest_c")))
    return problem("SENSOR_IMPOSSIBLE", fmt::format("it sent {}, which no air here can be", say(t, unit)),
                   "look at its probe and its cable, and whether it sends °C or °F");
  return SensorMessage{t, said};
}

BandSide side_of(Celsius reading, const BoxTarget& band, BandSide before, const Reference& reference) {
  if (reading < band.low) return BandSide::below;
  if (reading > band.high) return BandSide::above;
  const double width = (band.high - band.low).count();
  const CelsiusDelta margin{std::min(parameter(reference, "sensor_back_in_c"), width / 4)};
  if (before == BandSide::below && reading < band.low + margin) return before;
  if (before == BandSide::above && reading > band.high - margin) return before;
  return BandSide::within;
}

bool Thinner::keep(Celsius reading, Instant at, const BoxTarget* band, const Reference& reference) {
  const auto side = band ? side_of(reading, *band, side_, reference) : BandSide::within;
  const bool first = !last_;
  const bool leaves = side != side_ && side_ == BandSide::within && side != BandSide::within;
  // Coming back, and going over to the other side, must have lasted; leaving must not wait.
  if (side == side_)
    other_since_.reset();
  else if (!other_since_)
    other_since_ = at;
  const bool turned = other_since_ && at - *other_since_ >= minutes_of(reference, "sensor_back_min");
  const Span since = last_ ? at - last_->at : Span{0};
  const bool moved = last_ && std::abs((reading - last_->celsius).count()) >= parameter(reference, "sensor_moved_c") &&
                     since >= minutes_of(reference, "sensor_moved_min");
  const bool rests = last_ && since >= minutes_of(reference, "sensor_rests_min");
  if (!first && !leaves && !turned && !moved && !rests) return false;
  side_ = side;  // whoever reads the journal judges by what stands in it, so here too
  other_since_.reset();
  last_ = Kept{reading, at};
  return true;
}

void SensorDesk::know(const Litter& litter, Instant now) {
  const NestState nest = state(litter, reference_, now);
  const auto* target = reference::value_of(nest.target);
  band_ = target ? std::optional{*target} : std::nullopt;
  std::map<std::string, Watched, std::less<>> next;
  for (const auto& s : litter.sensors) {
    if (s.what.off.value_or(false)) continue;
    const auto old = watched_.find(s.what.topic);
    if (old != watched_.end() && old->second.sensor == s.what)
      next.emplace(s.what.topic, std::move(old->second));
    else
      next.emplace(s.what.topic, Watched{s.what});
  }
  watched_ = std::move(next);
}

std::optional<record::Air> SensorDesk::take(const std::string& topic, std::string_view payload, bool retained,
                                            Instant now) {
  const auto at = watched_.find(topic);
  if (at == watched_.end() || retained) return std::nullopt;
  Watched& w = at->second;
  const auto message = read_message(w.sensor, payload, reference_);
  if (!message) {
    w.trouble = message.error();
    w.trouble_at = now;
    ++w.troubles;
    return std::nullopt;
  }
  w.troubles = 0;
  w.said = message->said;
  w.heard = now;
  const bool banded = w.sensor.where == AirPlace::under_lamp || w.sensor.where == AirPlace::basket;
  if (!w.thinner.keep(message->celsius, now, banded && band_ ? &*band_ : nullptr, reference_)) return std::nullopt;
  return record::Air{message->celsius, w.sensor.where, {}, topic, {}};
}

void SensorDesk::broker(std::optional<Instant> lost, std::string why) {
  lost_ = lost;
  lost_why_ = std::move(why);
}

std::vector<std::string> SensorDesk::topics() const {
  std::vector<std::string> out;
  out.reserve(watched_.size());
  for (const auto& [topic, w] : watched_) out.push_back(topic);
  return out;
}

std::vector<Finding> SensorDesk::findings(const Litter& litter, Instant now) const {
  std::vector<Finding> out;
  if (watched_.empty()) return out;
  const auto when = [&](Instant t) { return say_day_time(litter.zone, t); };
  if (lost_)
    if (const auto* rule =
            reference::worst_reached(reference_.span_rules, "SENSOR_BROKER", std::chrono::floor<Minutes>(now - *lost_)))
      out.push_back(found(*rule, "box", fmt::format("away since {}: {}", when(*lost_), lost_why_), lost_));
  for (const auto& [topic, w] : watched_) {
    if (const auto* rule = rule_of(reference_.count_rules, "SENSOR_UNUSABLE");
        rule && w.troubles > 0 && reached(*rule, w.troubles) && now - w.trouble_at < kTroubleLasts)
      out.push_back(found(*rule, "box",
                          fmt::format("{}: {} ({} in a row, the last at {}); {}", topic, w.trouble->what,
                                      w.troubles == 1 ? "1 message" : fmt::format("{} messages", w.troubles),
                                      when(w.trouble_at), w.trouble->todo),
                          w.trouble_at));
    if (!w.said) continue;
    const Span off = w.heard > *w.said ? w.heard - *w.said : *w.said - w.heard;
    if (const auto* rule =
            reference::worst_reached(reference_.span_rules, "SENSOR_CLOCK", std::chrono::floor<Minutes>(off)))
      out.push_back(found(*rule, "box",
                          fmt::format("{}: its clock is {} {}; each reading counts from when it came", topic,
                                      say_span(off), w.heard > *w.said ? "behind" : "ahead"),
                          w.heard));
  }
  return out;
}

std::vector<Finding> sensor_findings(const Litter& litter, const Reference& reference, Instant now) {
  std::vector<Finding> out;
  const auto first = litter.first_birth();
  if (!first || *first > now) return out;
  if (std::none_of(litter.pups.begin(), litter.pups.end(), [](const record::Pup& p) { return p.in_box(); })) return out;
  const auto unit = litter.units().temperature;
  for (const auto& s : litter.sensors) {
    if (s.what.off.value_or(false) || s.at > now) continue;
    const record::Noted<record::Air>* last = nullptr;
    const record::Noted<record::Air>* same_since = nullptr;
    for (const auto& a : litter.air) {
      if (a.what.sensor != s.what.topic || a.at > now) continue;
      if (!last || a.what.celsius != last->what.celsius) same_since = &a;
      last = &a;
    }
    const Instant heard = last ? std::max(last->at, s.at) : s.at;
    const Span silent = now - heard;
    if (const auto* rule =
            reference::worst_reached(reference.span_rules, "SENSOR_SILENT", std::chrono::floor<Minutes>(silent))) {
      out.push_back(found(*rule, "box",
                          last ? fmt::format("{}: the last reading, {}, is of {}", s.what.topic,
                                             say(last->what.celsius, unit), say_day_time(litter.zone, last->at))
                               : fmt::format("{}: nothing has come yet", s.what.topic),
                          heard));
    } else if (last) {
      if (const auto* stuck = reference::worst_reached(reference.span_rules, "SENSOR_STUCK",
                                                       std::chrono::floor<Minutes>(last->at - same_since->at)))
        out.push_back(found(*stuck, "box",
                            fmt::format("{}: {} without the least change since {}", s.what.topic,
                                        say(last->what.celsius, unit), say_day_time(litter.zone, same_since->at)),
                            same_since->at));
    }
  }
  return out;
}

}  // namespace lampside::nest
