// An invented litter, told in journal entries, for the forms to print.
#pragma once

#include <fmt/format.h>

#include <cmath>
#include <string>
#include <vector>

#include "advice/assessment.hpp"
#include "record/litter.hpp"

namespace lampside::paper::test {

using record::Entry;

inline Instant at(std::string_view iso) { return parse_stamp(iso).value().instant; }

inline const std::vector<std::string>& collars() {
  static const std::vector<std::string> kCollars{"red",   "light blue", "yellow",    "green",  "pink",
                                                 "white", "purple",     "orange",    "brown",  "black",
                                                 "lime",  "navy",       "turquoise", "stripes"};
  return kCollars;
}

/// Writes entries one after another with ids that count up.
class Story {
 public:
  Story& add(Instant when, std::string about, record::Body body, std::string note = "") {
    const Stamp stamp{when, Minutes{0}};
    auto e = record::make_entry(fmt::format("00000000-0000-4000-8000-{:012d}", ++count_), "juniper-2026", stamp, stamp,
                                "test", std::move(about), std::move(body));
    e.note = std::move(note);
    entries_.push_back(std::move(e));
    return *this;
  }
  [[nodiscard]] record::Litter litter(Instant now = Instant::max(), Zone zone = Zone{}) const {
    return record::fold(record::known_at(entries_, now), "juniper-2026", std::move(zone));
  }

 private:
  std::vector<Entry> entries_;
  int count_ = 0;
};

struct Told {
  std::size_t pups = 8;
  int days = 15;  ///< of weights
  WeightUnit weight = WeightUnit::grams;
  TemperatureUnit temperature = TemperatureUnit::celsius;
  bool vet = true;
  bool names = false;   ///< long ones with markup in them
  bool losses = false;  ///< the second pup stillborn, the fourth dead on day 5, the fifth gone on day 12
};

inline const Instant kFirstPup = at("2026-03-02T21:40:00Z");

/// Juniper's litter: temperatures from a week before, a night's births, then a weight a day for each pup.
inline Story story(const Told& told) {
  Story s;
  record::LitterFacts facts;
  facts.dam = record::Parent{"Juniper", "Golden Retriever", std::nullopt, Kilograms{29}, 1};
  if (told.vet) facts.vet = record::Vet{"0555 0101", "0555 0199", 25};
  facts.scale_g = Grams{1};
  facts.units = record::UnitChoice{told.weight, told.temperature};
  s.add(at("2026-01-02T10:00:00Z"), "", facts);
  s.add(at("2026-02-26T10:00:00Z"), "dam",
        record::PupCount{record::CountMethod::xray, static_cast<int>(std::max<std::size_t>(told.pups, 7)), true});
  const double readings[] = {38.3, 38.1, 38.4, 38.2, 38.2, 38.0, 38.3, 37.9, 38.1, 37.8, 37.4, 36.9, 37.3};
  for (int i = 0; i < 13; ++i)
    s.add(at("2026-02-24T07:00:00Z") + std::chrono::hours(12 * i), "dam",
          record::Temperature{Celsius{readings[i]}, {}});
  if (told.pups == 0) return s;
  s.add(kFirstPup - std::chrono::minutes(80), "dam", record::SignSeen{record::Sign::waters});
  s.add(kFirstPup - std::chrono::minutes(35), "dam", record::SignSeen{record::Sign::strong_straining});
  for (std::size_t n = 0; n < told.pups; ++n) {
    const Instant born = kFirstPup + std::chrono::minutes(42 * n);
    const std::string label =
        told.names ? fmt::format("Juniper's {} of the Long Winter Night <b>&\"", n + 1) : std::to_string(n + 1);
    const double start = 395 + 17.0 * static_cast<double>((n * 5) % 9),
                 pace = 0.072 + 0.0035 * static_cast<double>((n * 7) % 5);
    record::Birth birth;
    birth.sex = n % 3 == 1 ? record::Sex::male : record::Sex::female;
    birth.grams = Grams{start};
    birth.placenta = n % 4 != 3;
    birth.collar = collars()[n % collars().size()];
    if (told.losses && n == 1) birth.alive = false;
    if (n == 2) birth.presentation = record::Presentation::tail_first;
    s.add(born, label, birth, n == 2 ? "slow to breathe, rubbed for two minutes, then pink and loud" : "");
    if (told.losses && n == 1) continue;
    for (int d = 1; d < told.days; ++d) {
      if (told.losses && ((n == 3 && d > 5) || (n == 4 && d > 12))) break;
      const double dip = d == 1 ? 0.97 : 1;
      record::Weight weight{Grams{std::round(start * dip * std::exp(pace * d - 0.0006 * d * d))}, {}, Grams{240}};
      s.add(at("2026-03-02T07:30:00Z") + std::chrono::hours(24 * d), label, weight);
    }
  }
  if (told.losses && told.pups > 4) {
    s.add(at("2026-03-07T16:00:00Z"), "4", record::Death{});
    s.add(at("2026-03-14T16:00:00Z"), "5", record::Departure{});
  }
  s.add(kFirstPup + std::chrono::hours(11), "dam", record::SignSeen{record::Sign::settled});
  return s;
}

inline advice::Assessment assess(const record::Litter& litter, Instant now) {
  return advice::assess(litter, reference::built_in(), now);
}

}  // namespace lampside::paper::test
