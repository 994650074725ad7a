#include "full_litter.hpp"

#include <fmt/format.h>

#include <cmath>

namespace lampside::bench {
namespace {

using std::chrono::hours;
using std::chrono::minutes;

const Instant kBirth{std::chrono::sys_days{std::chrono::year{2026} / 3 / 1} + hours{2}};
constexpr int kPups = 12;
constexpr int kDays = 56;

class Maker {
 public:
  void put(Instant at, const std::string& about, record::Body body) {
    const Stamp stamp{at, Minutes{0}};
    auto id = fmt::format("00000000-0000-4000-8000-{:012x}", entries_.size() + 1);
    entries_.push_back(record::make_entry(std::move(id), "bench-2026", stamp, stamp, "bench", about, std::move(body)));
  }
  std::vector<record::Entry> take() { return std::move(entries_); }

 private:
  std::vector<record::Entry> entries_;
};

}  // namespace

Instant its_end() { return kBirth + hours{24 * kDays}; }

std::vector<record::Entry> full_litter() {
  Maker maker;
  record::LitterFacts facts;
  facts.dam = record::Parent{"Bench", "Golden Retriever", std::nullopt, Kilograms{30}, 1};
  facts.zone = "Europe/London";
  facts.scale_g = Grams{1};
  maker.put(kBirth - hours{24 * 70}, "", facts);
  maker.put(kBirth - hours{24 * 63}, "", record::Ovulation{});
  maker.put(kBirth - hours{24 * 61}, "", record::Mating{record::MatingMethod::natural});
  maker.put(kBirth - hours{24 * 7}, "", record::PupCount{record::CountMethod::xray, kPups, true});
  for (int h = 24 * 10; h > 0; h -= 8)
    maker.put(kBirth - hours{h}, "dam", record::Temperature{Celsius{h > 20 ? 38.1 : 37.2}, std::nullopt});
  for (int pup = 1; pup <= kPups; ++pup) {
    const auto label = std::to_string(pup);
    const auto born = kBirth + minutes{35 * pup};
    const double grams = 340 + 11 * pup;
    record::Birth birth;
    birth.sex = pup % 2 == 0 ? record::Sex::female : record::Sex::male;
    birth.grams = Grams{grams};
    birth.collar = "collar " + label;
    maker.put(born, label, birth);
    maker.put(born + minutes{5}, label, record::NewbornScore{2, 2, 1, 2, 2});
    for (int h = 6; h <= 24 * kDays; h += h < 24 * 14 ? 6 : 12) {
      const double days = h / 24.0;
      const double now = grams * std::exp(0.075 * days - 0.0005 * days * days) * (1 + 0.008 * std::sin(h * 1.7 + pup));
      maker.put(kBirth + hours{h} + minutes{pup}, label,
                record::Weight{Grams{std::round(now)}, std::nullopt, std::nullopt});
    }
    for (int d = 0; d < 7; ++d)
      maker.put(kBirth + hours{24 * d + 5 + 7} + minutes{pup}, label, record::Temperature{Celsius{36.4}, std::nullopt});
  }
  for (int d = 0; d < kDays; ++d) {
    for (const int h : {8, 20}) {
      maker.put(kBirth + hours{24 * d + h}, "dam", record::Temperature{Celsius{38.5}, std::nullopt});
      maker.put(kBirth + hours{24 * d + h}, "dam", record::DamMeal{Kilocalories{1500}, std::nullopt, "soaked"});
      maker.put(kBirth + hours{24 * d + h}, "",
                record::Air{Celsius{d < 7 ? 30.0 : 25.0}, record::AirPlace::under_lamp, std::nullopt});
    }
    for (int feed = 0; d < 21 && feed < 8; ++feed)
      for (const auto* pup : {"1", "2", "3", "4"})
        maker.put(kBirth + hours{24 * d + 3 * feed + 12}, pup,
                  record::Feed{Millilitres{8}, record::FeedWay::bottle, KcalPerMl{1.1}});
  }
  return maker.take();
}

}  // namespace lampside::bench
