// Every foetometry line that is followed, at a worked value, and the worked examples of the sources.
#include <gtest/gtest.h>

#include <array>

#include "../advice/printed.hpp"
#include "due/model.hpp"
#include "forecasts.hpp"
#include "rehearse/pregnancy.hpp"

namespace lampside::testing {
namespace {

struct Worked {
  std::string_view breed;
  double kg;
  std::string_view measure;
  double mm;
  double to_go_d;
  double tolerance;  // half of the last digit printed; 0.01 for our own arithmetic
  std::string_view source;
};

constexpr std::string_view kVieira =
    "Vieira et al. 2020, Anim Reprod: 38.72 - 15.46 x BPD cm; worked there: 2.0 cm, 7.8 days";
constexpr std::string_view kGroups =
    "a study of 20 bitches quoting Nyland and Mattoon: group mean 2.39 cm, age 34.34, 30.66 to go";
constexpr std::string_view kHeads =
    "the same study: head 1.92 cm, printed age 48.87 and 16.12 to go (15 x 1.92 + 20 is 48.80)";
constexpr std::string_view kGroppetti =
    "Groppetti et al. 2015 and Cecchetto et al. 2017: 44.76 - 4.34 x ICC cm, 38.65 - 12.86 x BPD cm";
constexpr std::string_view kNyland =
    "Nyland and Mattoon 2002: ICC 6 x cm + 20, head 15 x cm + 20, body 7 x cm + 29; 65 less age";
constexpr std::string_view kCrown = "page on foetal age: crown to rump 3 x cm + 27; here 65 less age";
constexpr std::string_view kKutzler = "Kutzler et al. 2003 on those: dam up to 9 kg + 1 day of age, over 40 kg - 2";
constexpr std::string_view kPekingese =
    "deep portion of the telencephalic vesicle, Pekingese: 3.2 mm on day 35, 11.5 mm on day 60";

// One row for every line followed, and more where a source works an example.
constexpr std::array kWorked{
    Worked{"Chihuahua", 2.5, "BPD", 20, 7.8, 0.05, kVieira},
    Worked{"", 20, "ICC", 23.9, 30.66, 0.005, kGroups},
    Worked{"", 20, "BPD", 19.2, 16.12, 0.1, kHeads},
    Worked{"German Shepherd", 32, "ICC", 20, 36.08, 0.01, kGroppetti},
    Worked{"German Shepherd", 32, "ICC", 30, 31.74, 0.01, kGroppetti},
    Worked{"German Shepherd", 32, "BPD", 15, 19.36, 0.01, kGroppetti},
    Worked{"German Shepherd", 32, "BPD", 20, 12.93, 0.01, kGroppetti},
    Worked{"German Shepherd", 32, "BPD", 25, 6.50, 0.01, kGroppetti},
    Worked{"", 5, "ICC", 20, 32, 0.01, kKutzler},
    Worked{"", 9, "ICC", 20, 32, 0.01, kKutzler},
    Worked{"", 9.1, "ICC", 20, 33, 0.01, kNyland},
    Worked{"", 40, "ICC", 20, 33, 0.01, kNyland},
    Worked{"", 55, "ICC", 20, 35, 0.01, kKutzler},
    Worked{"", 5, "BPD", 20, 14, 0.01, kKutzler},
    Worked{"", 20, "BPD", 20, 15, 0.01, kNyland},
    Worked{"", 55, "BPD", 20, 17, 0.01, kKutzler},
    Worked{"", 5, "BD", 25, 17.5, 0.01, kKutzler},
    Worked{"", 20, "BD", 25, 18.5, 0.01, kNyland},
    Worked{"", 55, "BD", 25, 20.5, 0.01, kKutzler},
    Worked{"", 5, "CRL", 20, 31, 0.01, kKutzler},
    Worked{"", 20, "CRL", 20, 32, 0.01, kCrown},
    Worked{"", 55, "CRL", 20, 34, 0.01, kKutzler},
    Worked{"", 5, "DPTV", 3.2, 30, 0.05, kPekingese},
    Worked{"", 5, "DPTV", 11.5, 5, 0.05, kPekingese},
};

record::Litter dam(std::string_view breed, double kg) { return rehearse::Simulator::litter(breed, kg); }

TEST(Foetometry, WorkedValues) {
  for (const Worked& w : kWorked) {
    const auto* row = due::foetometry_row(reference::built_in(), dam(w.breed, w.kg), w.measure);
    ASSERT_NE(row, nullptr) << w.measure << " " << w.breed << " " << w.kg;
    EXPECT_TRUE(as_printed("days to go", w.source, fmt::format("{} {} mm, {} {} kg", w.measure, w.mm, w.breed, w.kg),
                           w.to_go_d, due::read_scan(*row, Millimetres{w.mm}).to_go_d, w.tolerance));
  }
}

TEST(Foetometry, EveryLineFollowedHasAWorkedValue) {
  for (const auto& row : reference::built_in().foetometry) {
    if (!row.chosen) continue;
    int worked = 0;
    for (const Worked& w : kWorked)
      worked += due::foetometry_row(reference::built_in(), dam(w.breed, w.kg), w.measure) == &row;
    EXPECT_GT(worked, 0) << row.measure << " " << row.breed << " over " << row.over_kg << " kg";
  }
}

TEST(Foetometry, LinesFromMemoryAreNotFollowed) {
  int from_memory = 0;
  for (const auto& row : reference::built_in().foetometry) {
    if (row.source.standing != reference::Standing::from_memory) continue;
    ++from_memory;
    EXPECT_FALSE(row.chosen) << row.measure << " over " << row.over_kg << " kg";
  }
  EXPECT_EQ(from_memory, 8)
      << "the table holds four pairs, from Luvoni and Grioni and from Alonge; docs/due.md lists them";
}

// Arithmetic of the facts: the lines from memory agree with the lines seen where both speak, which is why they are
// kept.
TEST(Foetometry, LinesFromMemoryAgreeWithThoseSeen) {
  struct Pair {
    double over_kg;
    std::string_view measure;
    double mm, says;
  };
  for (const Pair& p : {Pair{0, "ICC", 20, 31.8}, Pair{0, "ICC", 30, 25.3}, Pair{10, "ICC", 20, 34.5},
                        Pair{40, "ICC", 20, 35.8}, Pair{0, "BPD", 20, 8.4}, Pair{10, "BPD", 15, 20.3},
                        Pair{10, "BPD", 20, 13.1}, Pair{25, "BPD", 20, 12.5}, Pair{40, "BPD", 20, 12.9}}) {
    for (const auto& row : reference::built_in().foetometry)
      if (!row.chosen && row.breed.empty() && row.measure == p.measure && row.over_kg == p.over_kg) {
        EXPECT_NEAR(due::read_scan(row, Millimetres{p.mm}).to_go_d, p.says, 0.051) << row.source.locator;
      }
  }
}

TEST(Foetometry, ABreedWithoutItsOwnLineFallsToItsWeightAndWithoutAWeightToTheMiddle) {
  const auto& tables = reference::built_in();
  EXPECT_EQ(due::foetometry_row(tables, dam("Borzoi", 5), "BPD")->to_kg, 9);
  EXPECT_EQ(due::foetometry_row(tables, record::Litter{}, "BPD")->over_kg, 9);
  EXPECT_EQ(due::foetometry_row(tables, dam("german shepherd", 32), "bpd")->breed, "German Shepherd");
  EXPECT_EQ(due::foetometry_row(tables, dam("", 20), "femur"), nullptr);
}

// The published share of scans within a day: dams whose only clue is the breed's line.
TEST(Foetometry, AccuracyOfTheShepherdsLines) {
  constexpr const char* kSource =
      "Cecchetto et al. 2017, Anim Reprod Sci 184:110-119: 22 bitches; ICC 77 / 100 %, BPD 83 / 96 %";
  constexpr Instant kFrom = std::chrono::sys_days{std::chrono::year{2026} / 3 / 1};
  struct Line {
    std::string_view measure;
    double at_d, within1, within2;
  };
  for (const Line& line : {Line{"ICC", 26, 77, 100}, Line{"BPD", 52, 83, 96}}) {
    rehearse::Dice dice{7};
    rehearse::Simulator draw{reference::built_in(), rehearse::World{1, 0}, dice};
    int n = 0, one = 0, two = 0;
    for (int i = 0; i < 800; ++i) {
      // The breed's own shift lies before dioestrus, where a scan does not look.
      const auto p = draw.pregnancy("German Shepherd", kFrom);
      auto litter = dam("German Shepherd", 32);
      const Instant at = p.lh + std::chrono::hours{static_cast<int>(24 * line.at_d)};
      draw.scan(litter, p, line.measure, at);
      const auto f = forecast_of(litter, at);
      ASSERT_TRUE(f);
      const double off = std::abs(reference::days_between(f->p50, p.whelping));
      ++n, one += off <= 1.5, two += off <= 2.5;
    }
    EXPECT_TRUE(
        share_as_printed(fmt::format("{} within 1 day", line.measure), kSource, line.within1, 22, 100.0 * one / n, n));
    EXPECT_TRUE(
        share_as_printed(fmt::format("{} within 2 days", line.measure), kSource, line.within2, 22, 100.0 * two / n, n));
  }
}

}  // namespace
}  // namespace lampside::testing
