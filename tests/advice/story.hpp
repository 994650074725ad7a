// A litter told in a few lines, for tests: what happened and when, then what the assessment makes of it at a moment.
#pragma once

#include <fmt/format.h>

#include <chrono>
#include <cmath>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "advice/assessment.hpp"
#include "record/litter.hpp"

namespace lampside::testing {

using record::Sign;
using reference::Level;

/// The moment the stories are told around: midnight (UTC) of an invented night.
inline constexpr Instant kNight = std::chrono::sys_days{std::chrono::year{2026} / 10 / 5};
inline Span minutes(double m) { return Span{std::llround(m * 60'000)}; }
inline Span hours(double h) { return minutes(h * 60); }
inline Span days(double d) { return minutes(d * 24 * 60); }

/// Where stories are told that name no zone: UTC, unless a test moves the clocks for a while.
inline Zone& usual_zone() {
  static Zone zone;
  return zone;
}

class Story {
 public:
  Story() : Story(usual_zone()) {}
  explicit Story(Zone zone) : zone_{std::move(zone)} {}

  Story& tell(Instant at, std::string about, record::Body body) {
    const Stamp stamp = zone_.stamp(at);
    entries_.push_back(record::make_entry(fmt::format("00000000-0000-4000-8000-{:012x}", entries_.size() + 1),
                                          "juniper-2026", stamp, stamp, "test", std::move(about), std::move(body)));
    return *this;
  }
  Story& facts(record::LitterFacts f, Instant at = kNight - days(80)) { return tell(at, "", std::move(f)); }
  Story& breed(std::string name) {
    record::LitterFacts f;
    f.dam = record::Parent{"Juniper", std::move(name), {}, Kilograms{31}, {}};
    return facts(f);
  }
  Story& vet() {
    record::LitterFacts f;
    f.vet = record::Vet{"0000 000", {}, {}};
    return facts(f);
  }
  Story& mated(Instant at) { return tell(at, "", record::Mating{}); }
  Story& counted(int pups, Instant at = kNight - days(3)) {
    return tell(at, "", record::PupCount{record::CountMethod::xray, pups, {}});
  }
  Story& sign(Sign s, Instant at) { return tell(at, "dam", record::SignSeen{s}); }
  Story& born(std::string label, Instant at, std::optional<double> grams = {}, bool alive = true) {
    record::Birth b;
    if (grams) b.grams = Grams{*grams};
    b.alive = alive;
    return tell(at, std::move(label), b);
  }
  Story& weighed(std::string label, double grams, Instant at) {
    return tell(at, std::move(label), record::Weight{Grams{grams}, {}, {}});
  }
  Story& temperature(std::string about, double celsius, Instant at) {
    return tell(at, std::move(about), record::Temperature{Celsius{celsius}, {}});
  }
  Story& air(double celsius, Instant at) {
    return tell(at, "", record::Air{Celsius{celsius}, record::AirPlace::under_lamp, {}});
  }
  /// A newborn score with that total, spread over the five items.
  Story& scored(std::string label, int total, Instant at) {
    int left = total;
    const auto item = [&] {
      const int n = std::min(2, left);
      left -= n;
      return n;
    };
    const int heart = item(), breathing = item(), reflex = item(), movement = item(), colour = item();
    return tell(at, std::move(label), record::NewbornScore{heart, breathing, reflex, movement, colour});
  }
  Story& strike(std::string id, Instant at) { return tell(at, "", record::Strike{std::move(id)}); }
  /// The entry told last corrects the one named.
  Story& correcting(std::string id) {
    entries_.back().corrects = std::move(id);
    return *this;
  }

  [[nodiscard]] const std::string& last_id() const { return entries_.back().id; }
  [[nodiscard]] std::vector<record::Entry>& entries() { return entries_; }
  [[nodiscard]] const std::vector<record::Entry>& entries() const { return entries_; }
  [[nodiscard]] record::Litter litter() const { return record::fold(entries_, "juniper-2026", zone_); }
  [[nodiscard]] advice::Assessment assess(Instant now) const {
    return advice::assess(litter(), reference::built_in(), now);
  }

 private:
  Zone zone_;
  std::vector<record::Entry> entries_;
};

/// The finding of that code (about that one, when given), or null.
inline const reference::Finding* find(const advice::Assessment& a, std::string_view code, std::string_view about = {}) {
  for (const auto& f : a.findings)
    if (f.code == code && (about.empty() || f.about == about)) return &f;
  return nullptr;
}
inline std::optional<Level> level_of(const advice::Assessment& a, std::string_view code, std::string_view about = {}) {
  const auto* f = find(a, code, about);
  return f ? std::optional{f->level} : std::nullopt;
}
inline std::string codes(const advice::Assessment& a) {
  std::string out;
  for (const auto& f : a.findings) out += fmt::format("{} {} ({}): {}\n", name_of(f.level), f.code, f.about, f.because);
  return out;
}

}  // namespace lampside::testing
