// Records as they should not be: a true answer or a reason for none; never a crash, a NaN or a forecast before now.
#include <gtest/gtest.h>

#include <cmath>

#include "../advice/story.hpp"
#include "forecasts.hpp"

namespace lampside::testing {
namespace {

constexpr Instant kMated = kNight;

/// A forecast that holds together, or nothing and a failure.
std::optional<due::Forecast> sound(const record::Litter& litter, Instant now) {
  auto f = forecast_of(litter, now);
  if (f) holds_together(*f, now);
  return f;
}
std::string refused(const record::Litter& litter, Instant now) {
  const auto said = due::forecast(litter, reference::built_in(), now);
  const auto* none = std::get_if<reference::NotAssessed>(&said);
  return none && !none->why.empty() ? std::string(none->code) : "";
}
const due::Clue* clue(const due::Forecast& f, std::string_view kind) {
  for (const auto& c : f.clues)
    if (c.kind == kind) return &c;
  return nullptr;
}
double days_after(Instant from, Instant t) { return reference::days_between(from, t); }

TEST(BadInput, NothingAtAllAndNothingDated) {
  EXPECT_EQ(refused(record::Litter{}, kNight), "NO_DATA");
  // Temperatures, signs, a count, an earlier litter: none of them dates anything by itself.
  Story story;
  story.temperature("dam", 37.2, kNight).sign(Sign::nesting, kNight).counted(6, kNight);
  story.tell(kNight, "", record::EarlierLitter{record::Anchor::mating, Days{63}, {}, {}, {}, {}});
  EXPECT_EQ(refused(story.litter(), kNight + days(1)), "NO_DATA");
  // One low progesterone reading dates nothing, one high reading neither.
  for (const double ng : {0.3, 30.0}) {
    Story one;
    one.tell(kNight, "", record::Progesterone{NgPerMl{ng}});
    EXPECT_EQ(refused(one.litter(), kNight + days(5)), "NO_DATA") << ng;
  }
}

TEST(BadInput, OnlyALastMating) {
  const auto f = sound(Story{}.mated(kMated).litter(), kMated + days(50));
  ASSERT_TRUE(f);
  EXPECT_NEAR(days_after(kMated, f->p50), 63, 0.5);
  EXPECT_GT(days_after(f->p05, f->p95), 7) << "one untimed date is no more than that";
  EXPECT_TRUE(f->conflicts.empty());
}

TEST(BadInput, AskedBeforeTheMatingAndOnItsDay) {
  const auto litter = Story{}.mated(kMated).litter();
  EXPECT_EQ(refused(litter, kMated - hours(1)), "NO_DATA");
  sound(litter, kMated);
}

TEST(BadInput, SheHasWhelped) {
  const auto litter = Story{}.mated(kMated).born("A", kMated + days(63)).litter();
  EXPECT_EQ(refused(litter, kMated + days(63.1)), "PAST");
  EXPECT_TRUE(sound(litter, kMated + days(62.9))) << "a birth still to come is a wrong date, not a whelping";
}

TEST(BadInput, OverdueByAWeekAndByMore) {
  const auto litter = Story{}.mated(kMated).litter();
  const auto f = sound(litter, kMated + days(70));
  ASSERT_TRUE(f);
  EXPECT_GT(f->chance.h48, 0.4) << "what is left lies close ahead";
  EXPECT_EQ(refused(litter, kMated + days(90)), "NO_REFERENCE");
  // With ovulation known, a week over is far out: still an answer, and what is left of it is wide.
  Story known;
  known.mated(kMated).tell(kMated, "", record::Ovulation{});
  sound(known.litter(), kMated + days(70));
}

TEST(BadInput, ThreeHundredTemperatures) {
  Story story;
  story.mated(kMated);
  for (int i = 0; i < 300; ++i)
    story.temperature("dam", 37.9 + 0.2 * std::sin(i), kMated + days(55) + minutes(30.0 * i));
  const auto f = sound(story.litter(), kMated + days(55) + minutes(30.0 * 299));
  ASSERT_TRUE(f);
  EXPECT_LT(f->chance.h6, 0.05) << "read every half hour and never a drop";
}

TEST(BadInput, TemperaturesThatCannotBe) {
  for (const double slip : {98.6, 99.1, 3.79, 0.0, 15.0, 45.0}) {
    Story story;
    story.mated(kMated);
    for (int i = 0; i < 8; ++i) story.temperature("dam", 37.9, kMated + days(58) + hours(6.0 * i));
    const auto without = sound(story.litter(), kMated + days(60));
    story.temperature("dam", slip, kMated + days(60));
    const auto with = sound(story.litter(), kMated + days(60));
    ASSERT_TRUE(with && without);
    EXPECT_NEAR(hours_apart(with->p50, without->p50), 0, 3) << slip << " is a slip and says nothing of the hour";
  }
}

TEST(BadInput, DatesInTheFuture) {
  Story story;
  story.mated(kMated);
  const Instant now = kMated + days(40);
  const auto before = sound(story.litter(), now);
  story.tell(now + days(1), "", record::Ovulation{}).tell(now + days(2), "", record::Dioestrus{});
  story.tell(now + days(1), "", record::Progesterone{NgPerMl{4}}).temperature("dam", 36.8, now + hours(1));
  story.counted(3, now + hours(2)).sign(Sign::waters, now + hours(1)).mated(now + days(90));
  const auto after = sound(story.litter(), now);
  ASSERT_TRUE(before && after);
  EXPECT_EQ(before->density, after->density);
  EXPECT_EQ(before->clues.size(), after->clues.size());
}

TEST(BadInput, ALitterOfOne) {
  for (const auto* breed : {"Golden Retriever", "Chihuahua", "no such breed"}) {
    Story story;
    story.breed(breed).mated(kMated);
    const auto usual = sound(story.litter(), kMated + days(60));
    story.counted(1, kMated + days(57));
    story.tell(kMated + days(60), "", record::Progesterone{NgPerMl{4.5}});
    const auto one = sound(story.litter(), kMated + days(60));
    ASSERT_TRUE(usual && one);
    EXPECT_GT(one->p50, usual->p50) << breed << ": a single pup is carried longer";
    ASSERT_EQ(one->adjustments.size(), std::string_view(breed) == "Golden Retriever" ? 2u : 1u);
    EXPECT_NE(one->adjustments.back().says.find("one day later for four or fewer"), std::string::npos)
        << "the other study is told too";
  }
}

// Most bitches with one or two pups show no fall: a high reading must not push the forecast out.
TEST(BadInput, HighProgesteroneOfASingletonSaysLittle) {
  const auto moved_by_high_reading = [](int pups) {
    Story story;
    story.breed("Golden Retriever").mated(kMated).counted(pups, kMated + days(57));
    const auto without = sound(story.litter(), kMated + days(63));
    story.tell(kMated + days(63), "", record::Progesterone{NgPerMl{5}});
    const auto with = sound(story.litter(), kMated + days(63));
    return without && with ? without->chance.h24 - with->chance.h24 : -1;
  };
  const double one = moved_by_high_reading(1), eight = moved_by_high_reading(8);
  EXPECT_GT(eight, 0.05) << "a large litter's high reading does say: not today";
  EXPECT_LT(one, eight / 2);
}

TEST(BadInput, NoSkeletonCountedIsNoLitterSize) {
  sound(Story{}.breed("Golden Retriever").mated(kMated).counted(0, kMated + days(57)).litter(), kMated + days(58));
}

TEST(BadInput, TwoSeasonsMatings) {
  Story story;
  story.mated(kMated - days(190)).mated(kMated - days(188)).mated(kMated).mated(kMated + days(2));
  story.tell(kMated - days(190), "", record::Progesterone{NgPerMl{3}});
  const auto f = sound(story.litter(), kMated + days(50));
  const auto alone = sound(Story{}.mated(kMated).mated(kMated + days(2)).litter(), kMated + days(50));
  ASSERT_TRUE(f && alone);
  EXPECT_EQ(f->density, alone->density) << "the last season is followed, as if the other were not there";
  ASSERT_EQ(f->conflicts.size(), 1u);
  EXPECT_EQ(f->conflicts[0].culprit, "mating");
  EXPECT_NE(f->conflicts[0].says.find("two seasons"), std::string::npos) << f->conflicts[0].says;
}

// A day judged is a day: whatever hour was written beside it, the answer is the same.
TEST(BadInput, TheHourOfADayJudgedSaysNothing) {
  const auto at = [](double h, auto body) {
    return sound(Story{}.mated(kMated).tell(kMated + days(2) + hours(h), "", body).litter(), kMated + days(45));
  };
  const auto same = [&](auto body) {
    const auto night = at(0.1, body), noon = at(12, body), evening = at(23.9, body);
    ASSERT_TRUE(night && noon && evening);
    EXPECT_LT(hours_apart(night->p50, noon->p50), 0.01);
    EXPECT_LT(hours_apart(evening->p50, noon->p50), 0.01);
  };
  same(record::Ovulation{});
  same(record::LhSurge{});
  const auto of_day =
      [](double h) {  // a mating with no more than its day is a little less exact than one with its hour
        const auto f = sound(Story{}.mated(kMated + hours(h)).litter(), kMated + days(45));
        return f ? reference::days_between(f->p05, f->p95) : 0;
      };
  EXPECT_GT(of_day(12), of_day(11));
  EXPECT_NEAR(of_day(12), of_day(11), 0.1);
}

// Two studies of one breed disagree: one is followed, both are told.
TEST(BadInput, ABreedOnWhichStudiesDisagree) {
  const auto shift = [](const char* breed) {
    const auto f = sound(Story{}.breed(breed).tell(kMated, "", record::LhSurge{}).litter(), kMated + days(45));
    return f && !f->adjustments.empty() ? f->adjustments[0] : due::Adjustment{"", Days{0}, {}};
  };
  EXPECT_NEAR(shift("Labrador Retriever").shift.count(), 62.9 - 65, 1e-9) << "Eilts et al. 2005, abstract";
  EXPECT_NE(shift("Labrador Retriever").says.find("0.5 days earlier by Okkens et al. 2001"), std::string::npos);
  EXPECT_NEAR(shift("German Shepherd").shift.count(), 63.6 - 65, 1e-9) << "Eilts et al. 2005, abstract";
  EXPECT_EQ(shift("Borzoi").says, "");
}

TEST(BadInput, DioestrusBeforeTheMating) {
  Story story;
  story.mated(kMated).tell(kMated - days(9), "", record::Dioestrus{});
  const auto f = sound(story.litter(), kMated + days(45));
  ASSERT_TRUE(f);
  ASSERT_FALSE(f->conflicts.empty());
  // One against one: both are named, the likelier slip first.
  EXPECT_TRUE(f->conflicts[0].culprit == "dioestrus" || f->conflicts[0].culprit == "mating");
  // With the surge on the mating's side, the dioestrus is the one.
  story.tell(kMated - days(2), "", record::LhSurge{});
  const auto three = sound(story.litter(), kMated + days(45));
  ASSERT_TRUE(three);
  ASSERT_FALSE(three->conflicts.empty());
  EXPECT_EQ(three->conflicts[0].culprit, "dioestrus");
}

TEST(BadInput, AScanThatDisagreesBySixDays) {
  const auto told = [](double off_d) {
    Story story;
    story.mated(kMated).tell(kMated - days(2), "", record::LhSurge{}).tell(kMated + days(6), "", record::Dioestrus{});
    // Sac of 20 mm: 33 days to go by the line of a middling dam.
    story.tell(kMated + days(63 - 33 + off_d), "", record::FoetalMeasure{"ICC", Millimetres{20}});
    return sound(story.litter(), kMated + days(45));
  };
  const auto fits = told(0), wrong = told(6);
  ASSERT_TRUE(fits && wrong);
  EXPECT_TRUE(fits->conflicts.empty());
  ASSERT_FALSE(wrong->conflicts.empty());
  EXPECT_EQ(wrong->conflicts[0].culprit, "foetal_measure");
  EXPECT_NE(wrong->conflicts[0].says.find("slip"), std::string::npos);
  EXPECT_LT(hours_apart(wrong->p50, fits->p50), 30) << "not averaged: two dates hold against one";
}

TEST(BadInput, MillimetresAndCentimetres) {
  Story story;
  story.mated(kMated).tell(kMated - days(2), "", record::LhSurge{});
  story.tell(kMated + days(30), "", record::FoetalMeasure{"ICC", Millimetres{2}});    // centimetres as typed
  story.tell(kMated + days(31), "", record::FoetalMeasure{"femur", Millimetres{9}});  // no line is known
  const auto f = sound(story.litter(), kMated + days(45));
  ASSERT_TRUE(f);
  EXPECT_EQ(f->conflicts.size(), 1u);
  EXPECT_EQ(f->conflicts[0].culprit, "foetal_measure");
}

TEST(BadInput, NmolNotedAsNg) {
  Story right, slip;
  const double series[] = {1.2, 2.6, 4.9};
  for (auto* story : {&right, &slip}) {
    story->tell(kMated - days(2), "", record::LhSurge{}).tell(kMated + days(6), "", record::Dioestrus{});
    for (int i = 0; i < 3; ++i)
      story->tell(kMated - days(3 - i), "", record::Progesterone{NgPerMl{series[i] * (story == &slip ? 3.18 : 1)}});
  }
  const auto fine = sound(right.litter(), kMated + days(45)), wrong = sound(slip.litter(), kMated + days(45));
  ASSERT_TRUE(fine && wrong);
  EXPECT_TRUE(fine->conflicts.empty());
  ASSERT_TRUE(clue(*wrong, "progesterone"));
  EXPECT_GT(clue(*wrong, "progesterone")->odd, 0.5);
  EXPECT_LT(clue(*fine, "progesterone")->odd, 0.03);
  ASSERT_FALSE(wrong->conflicts.empty());
  EXPECT_EQ(wrong->conflicts[0].culprit, "progesterone");
  EXPECT_NE(wrong->conflicts[0].says.find("nmol/l"), std::string::npos);
  EXPECT_LT(hours_apart(wrong->p50, fine->p50), 12);
}

TEST(BadInput, ManyOfEverything) {
  Story story;
  story.breed("Golden Retriever");
  for (int i = 0; i < 60; ++i) {
    story.mated(kMated + hours(i)).tell(kMated + hours(i), "", record::Ovulation{});
    story.tell(kMated + hours(i), "", record::Progesterone{NgPerMl{0.1 * i * i}});
    story.tell(kMated + days(28) + hours(i), "", record::FoetalMeasure{"BPD", Millimetres{1.0 + 4 * i}});
    story.tell(kMated, "", record::EarlierLitter{record::Anchor::ovulation, Days{45.0 + i % 36}, {}, {}, {}, {}});
    story.tell(kMated + days(61) + hours(i), "", record::Progesterone{NgPerMl{i % 2 ? 0.0 : 150.0}});
    story.counted(i % 30, kMated + days(40) + hours(i));
  }
  sound(story.litter(), kMated + days(62));
  sound(story.litter(), kMated + days(64));
}

// What moves the clocks: all entries in a zone on the night the hours change.
TEST(BadInput, TheNightTheClocksGoBack) {
  const Instant change = std::chrono::sys_days{std::chrono::year{2026} / 10 / 25} + std::chrono::hours{1};
  Zone zone{"Europe/London", Minutes{60}, {{change, Minutes{0}, "GMT"}}};
  Story story{zone};
  story.mated(change - days(63));
  for (int h = -40; h <= 0; h += 4) story.temperature("dam", 37.8, change + hours(h));
  sound(story.litter(), change);
}

}  // namespace
}  // namespace lampside::testing
