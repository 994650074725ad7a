// The published accuracy of single dates, reproduced: pregnancies drawn from the model's own numbers, noted by the one
// clue, forecast by due::forecast, and the error counted in whole days (so "within 1 day" is within 1.5).
#include <gtest/gtest.h>

#include <array>
#include <cmath>

#include "../advice/printed.hpp"
#include "forecasts.hpp"
#include "rehearse/pregnancy.hpp"

namespace lampside::testing {
namespace {

using rehearse::Dice;
using rehearse::Pregnancy;
using rehearse::Simulator;
using rehearse::World;

constexpr int kDrawn = 1500;
constexpr Instant kFrom = std::chrono::sys_days{std::chrono::year{2026} / 3 / 1};
const rehearse::World kNoSlips{1, 0};
constexpr const char* kNoBreed = "";

struct Errors {
  std::array<int, 4> within{};  // 0, 1, 2, 3 days
  double sum = 0, squares = 0;
  [[nodiscard]] double pct(std::size_t days) const { return 100.0 * within[days] / kDrawn; }
  [[nodiscard]] double mean() const { return sum / kDrawn; }
  [[nodiscard]] double sd() const { return std::sqrt(squares / kDrawn - mean() * mean()); }
};

/// The forecast's middle against the truth, three weeks before whelping, over many pregnancies noted by `note`.
template <class Note>
Errors forecasts(unsigned seed, Note note) {
  Dice dice{seed};
  Simulator draw{reference::built_in(), kNoSlips, dice};
  Errors out;
  for (int i = 0; i < kDrawn; ++i) {
    const Pregnancy p = draw.pregnancy(kNoBreed, kFrom);
    auto litter = Simulator::litter(kNoBreed, 20);
    note(draw, litter, p);
    const auto f = forecast_of(litter, p.lh + std::chrono::hours{24 * 40});
    if (!f) return out;
    const double off = reference::days_between(f->p50, p.whelping);
    for (std::size_t days = 0; days < 4; ++days) out.within[days] += std::abs(off) <= static_cast<double>(days) + 0.5;
    out.sum += off;
    out.squares += off * off;
  }
  return out;
}

TEST(Accuracy, DioestrusAnd57) {
  constexpr const char* kSource = "De Cramer and Nöthling 2017, Theriogenology 96:153-157, abstract: 242 pregnancies";
  const auto e = forecasts(1, [](auto& draw, auto& litter, const auto& p) { draw.dioestrus(litter, p); });
  EXPECT_TRUE(share_as_printed("dioestrus, within 1 day", kSource, 88, 242, e.pct(1), kDrawn));
  EXPECT_TRUE(share_as_printed("dioestrus, within 2 days", kSource, 99, 242, e.pct(2), kDrawn));
  EXPECT_TRUE(share_as_printed("dioestrus, within 3 days", kSource, 100, 242, e.pct(3), kDrawn));
  EXPECT_NEAR(e.mean(), 0, 0.06) << kSource;
}

TEST(Accuracy, ProgesteroneRiseAnd65) {
  constexpr const char* kSource =
      "Kutzler et al. 2003, Theriogenology 60:1187-1196: 90 % of 63; 67 and 100 % from memory";
  const auto e = forecasts(2, [](auto& draw, auto& litter, const auto& p) { draw.progesterone(litter, p, 1); });
  EXPECT_TRUE(share_as_printed("progesterone rise, within 1 day", kSource, 67, 63, e.pct(1), kDrawn));
  EXPECT_TRUE(share_as_printed("progesterone rise, within 2 days", kSource, 90, 63, e.pct(2), kDrawn));
  EXPECT_TRUE(share_as_printed("progesterone rise, within 3 days", kSource, 100, 63, e.pct(3), kDrawn));
}

TEST(Accuracy, Ovulation) {
  constexpr const char* kSource = "Mir et al. 2011, Reprod Dom Anim 46:994-998: 63.1 +/- 2.1 days, 77.8 % in 61-65";
  const auto e = forecasts(3, [](auto& draw, auto& litter, const auto& p) { draw.ovulation(litter, p); });
  EXPECT_TRUE(share_as_printed("ovulation, within 2 days", kSource, 77.8, 162, e.pct(2), kDrawn));
  // Standard error of a spread over 162 pregnancies: 2.1 / sqrt(324) = 0.12.
  EXPECT_TRUE(as_printed("ovulation, spread of days", kSource, "simulated", 2.1, e.sd(), 0.24));
  record::Litter litter{};
  litter.ovulations.push_back(noted(kFrom, record::Ovulation{}));
  const auto f = forecast_of(litter, kFrom + std::chrono::hours{24 * 30});
  ASSERT_TRUE(f);
  EXPECT_TRUE(as_printed("ovulation to the forecast's middle", kSource, "no other clue", 63.1,
                         reference::days_between(kFrom + std::chrono::hours{12}, f->p50), 0.05))
      << "from the day's middle";
}

TEST(Accuracy, TheSurge) {
  constexpr const char* kSource = "Hollinshead and Hanlon 2017, Theriogenology 101:62-72: 65 +/- 1.9 days, n 1203";
  const auto e = forecasts(4, [](auto& draw, auto& litter, const auto& p) { draw.lh_surge(litter, p); });
  EXPECT_TRUE(as_printed("LH surge, spread of days", kSource, "simulated", 1.9, e.sd(),
                         0.11));  // two standard errors, theirs and ours
  EXPECT_NEAR(e.mean(), 0, 0.12) << kSource;
}

// From the mating to whelping, and what the forecast makes of it from the readings that timed it.
TEST(Accuracy, MatingTimedByProgesterone) {
  constexpr const char* kSource = "Okkens et al. 2001, J Reprod Fertil Suppl 57: 61.4 +/- 1.5 days, n 113";
  double sum = 0, squares = 0;
  const auto e = forecasts(5, [&](auto& draw, auto& litter, const auto& p) {
    draw.progesterone(litter, p, 2);
    draw.matings(litter, p, 1, true);
    const double days = reference::days_between(litter.matings.front().at, p.whelping);
    sum += days, squares += days * days;
  });
  const double mean = sum / kDrawn, sd = std::sqrt(squares / kDrawn - mean * mean);
  // Standard errors over 113 pregnancies: 0.14 of the mean, 0.10 of the spread.
  EXPECT_TRUE(as_printed("mating timed by progesterone, days", kSource, "simulated", 61.4, mean, 0.28));
  EXPECT_TRUE(as_printed("the same, spread", kSource, "simulated", 1.5, sd, 0.2));
  EXPECT_TRUE(as_printed("the forecast's error", kSource, "simulated", 1.5, e.sd(), 0.2));
}

}  // namespace
}  // namespace lampside::testing
