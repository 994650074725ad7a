// A round of doses for a litter: who gets how much, and each reason why not.
#include <gtest/gtest.h>

#include "../advice/story.hpp"
#include "labels.hpp"

namespace lampside::testing {
namespace {

using record::Dose;

/// Two pups of 21 days, weighed daily for four days, the last time at kNight - 2 h.
Story litter(double age_days = 21) {
  Story story;
  story.breed("Golden Retriever");
  for (const char* label : {"1", "2"}) {
    story.born(label, kNight - days(age_days), 400);
    for (int d = 4; d >= 0; --d) story.weighed(label, 1200 * std::pow(1.04, -d), kNight - days(d) - hours(2));
  }
  return story;
}
record::Product suspension() {
  auto p = product("pyrantel", "4.54 mg/ml", "5 mg/kg");
  p.name = "worm suspension";
  p.mark_ml = Millilitres{0.1};
  p.min_age_d = Days{14};
  p.repeat_d = Days{14};
  p.lot = "LH-2217";
  return p;
}
Story& with(Story& story, const record::Product& p) { return story.tell(kNight - days(10), "", p); }
Dose given(double ml, std::string product_name = "worm suspension") {
  Dose d;
  d.product = std::move(product_name);
  d.ml = Millilitres{ml};
  return d;
}
const care::DogDose& first(const advice::Assessment& a) { return a.dosing.at(0).dogs.at(0); }
std::string refusal(const advice::Assessment& a) {
  std::string out;
  for (const auto& r : first(a).refused) out += (out.empty() ? "" : " ") + std::string(r.code);
  return out;
}
std::string refusal(const Story& story, Instant now = kNight) { return refusal(story.assess(now)); }

TEST(DosingRound, TodaysSmoothedWeightDownToTheSyringesMark) {
  auto story = litter();
  with(story, suspension());
  const auto a = story.assess(kNight);
  const auto& dog = first(a);
  ASSERT_TRUE(dog.dose) << refusal(a);
  const auto& weight = std::get<care::DoseWeight>(dog.weight);
  EXPECT_TRUE(weight.smoothed);
  EXPECT_NEAR(weight.grams.count(), 1200, 12);
  EXPECT_NEAR(dog.dose->exact.count, weight.grams.count() / 1000 * 5 / 4.54, 1e-9);
  EXPECT_DOUBLE_EQ(dog.dose->give.count, 1.3);
  EXPECT_NEAR(dog.dose->gives.front().count(), 1.3 * 4.54 / weight.grams.count() * 1000, 1e-9);
  ASSERT_TRUE(a.dosing.at(0).together);
  EXPECT_DOUBLE_EQ(a.dosing.at(0).together->count, 2.6);
}

TEST(DosingRound, EachReasonWhyNot) {
  const auto reason = [](auto change, double age = 21) {
    auto story = litter(age);
    auto p = suspension();
    change(story, p);
    with(story, p);
    return refusal(story);
  };
  EXPECT_EQ(reason([](Story&, auto&) {}), "");
  EXPECT_EQ(reason([](Story&, auto& p) { p.strength.reset(); }), "LABEL");
  EXPECT_EQ(reason([](Story&, auto& p) {
              p.strength = "45.4 mg/ml";
              p.mark_ml = Millilitres{0.01};
            }),
            "STRENGTH_DOUBT");
  EXPECT_EQ(reason([](Story&, auto& p) {
              p.strength = "45.4 mg/ml";
              p.mark_ml = Millilitres{0.01};
              p.confirmed = true;
            }),
            "");
  EXPECT_EQ(reason([](Story&, auto& p) { p.min_age_d = Days{22}; }), "UNDER_AGE");
  EXPECT_EQ(reason([](Story&, auto& p) { p.min_age_d = Days{21}; }), "");
  EXPECT_EQ(reason([](Story&, auto& p) { p.min_age_d.reset(); }, 13), "UNDER_AGE");  // the label names none
  EXPECT_EQ(reason([](Story&, auto& p) { p.min_age_d.reset(); }, 14), "");
  EXPECT_EQ(reason([](Story&, auto& p) { p.min_kg = Kilograms{1.3}; }), "UNDER_WEIGHT");
  EXPECT_EQ(reason([](Story&, auto& p) { p.dose = "0.5-1 kg: 0.5 ml; 2-3 kg: 1 ml"; }), "BAND_GAP");
  EXPECT_EQ(reason([](Story&, auto& p) { p.expires = CivilDay{std::chrono::year{2026} / 10 / 4}; }), "EXPIRED");
  EXPECT_EQ(reason([](Story&, auto& p) { p.expires = CivilDay{std::chrono::year{2026} / 10 / 5}; }), "");
  EXPECT_EQ(reason([](Story&, auto& p) {
              p.opened = CivilDay{std::chrono::year{2026} / 7 / 20};
              p.keeps_open_d = Days{70};  // ten weeks, a product text's figure
            }),
            "EXPIRED");
  EXPECT_EQ(reason([](Story&, auto& p) { p.keeps_open_d = Days{70}; }), "OPENED_WHEN");
  EXPECT_EQ(reason([](Story&, auto& p) {
              p.opened = CivilDay{std::chrono::year{2026} / 7 / 27};  // 5 October is the seventieth day
              p.keeps_open_d = Days{70};
            }),
            "");
  EXPECT_EQ(reason([](Story& s, auto&) { s.temperature("1", 33, kNight - minutes(20)); }), "UNWELL");
  EXPECT_EQ(reason([](Story& s, auto&) { s.tell(kNight - hours(3), "1", record::SignSeen{Sign::vomiting}); }),
            "UNWELL");
  EXPECT_EQ(reason([](Story& s, auto&) { s.tell(kNight - days(10), "1", given(1)); }), "TOO_SOON");
  EXPECT_EQ(reason([](Story& s, auto&) { s.tell(kNight - days(14), "1", given(1)); }, 40), "");
  EXPECT_EQ(reason([](Story& s, auto& p) { s.tell(kNight - days(10), "1", given(1)), p.repeat_d.reset(); }),
            "NO_INTERVAL");
  EXPECT_EQ(reason([](Story& s, auto&) { s.tell(kNight, "1", given(1, "another wormer")); }), "TWO_WORMERS");
  EXPECT_EQ(reason([](Story& s, auto&) {
              auto d = given(1, "another product");
              d.active = "piperazine citrate";
              s.tell(kNight - hours(40), "1", d);
            }),
            "ANTAGONISTS");
}

TEST(DosingRound, ThreeDaysInARow) {
  auto p = suspension();
  p.days_in_row = 3;
  const auto after = [&](std::vector<double> days_ago) {
    auto story = litter(40);
    with(story, p);
    for (const double d : days_ago) story.tell(kNight - days(d), "1", given(1));
    return story.assess(kNight);
  };
  EXPECT_EQ(first(after({})).day, 1);
  EXPECT_EQ(first(after({1})).day, 2);
  EXPECT_TRUE(first(after({1})).dose);
  EXPECT_EQ(first(after({2, 1})).day, 3);
  EXPECT_EQ(refusal(after({3, 2, 1})), "TOO_SOON");
  EXPECT_EQ(refusal(after({2})), "COURSE_BROKEN");
  EXPECT_EQ(refusal(after({20, 19, 18})), "");
}

TEST(DosingRound, AnOldOrDoubtedWeightIsRefusedAndSaysHowWrong) {
  auto story = litter();
  with(story, suspension());
  const auto old = story.assess(kNight + hours(70));  // three days after the weighing
  ASSERT_EQ(refusal(old), "STALE_WEIGHT");
  EXPECT_NE(first(old).refused.front().why.find("10 to 16 %"), std::string::npos) << first(old).refused.front().why;
  EXPECT_EQ(refusal(story.assess(kNight + hours(22))), "");
  EXPECT_EQ(refusal(story.assess(kNight + hours(22.1))), "STALE_WEIGHT");

  auto doubted = litter();
  with(doubted, suspension());
  doubted.weighed("1", 125, kNight - minutes(30)).weighed("2", 1260, kNight - minutes(29));  // the point slipped
  EXPECT_NE(refusal(doubted).find("DOUBTED_WEIGHT"), std::string::npos) << refusal(doubted);

  Story none;
  none.born("1", kNight - days(21));
  with(none, suspension());
  EXPECT_EQ(refusal(none), "NO_WEIGHT");
}

// Our own heuristic on Small Animal Clinical Nutrition, 5th ed., Table 16-1 (a pup is born at up to 6.5 % of its dam):
// four times that at 14 days is too heavy. 4 lb typed as 4 kg, for a dam of 9 kg.
TEST(DosingRound, PoundsTypedAsKilograms) {
  const auto weighing = [](double grams) {
    Story story;
    record::LitterFacts f;
    f.dam = record::Parent{"Juniper", {}, {}, Kilograms{9}, {}};
    story.facts(f).born("1", kNight - days(14)).weighed("1", grams, kNight - hours(1));
    with(story, suspension());
    return refusal(story);
  };
  EXPECT_EQ(weighing(4000), "POUNDS_AS_KG");
  EXPECT_EQ(weighing(4000 * kKilogramsPerPound), "");
  EXPECT_EQ(weighing(9000 * 0.26), "");
}

TEST(DosingRound, GivenStruckOutAndLeftOut) {
  auto story = litter();
  with(story, suspension());
  story.tell(kNight + minutes(20), "1", given(1.3));
  const auto id = story.last_id();
  story.tell(kNight + minutes(30), "2", record::DoseSkipped{"worm suspension", "loose stools"});
  auto a = story.assess(kNight + hours(1));
  EXPECT_EQ(first(a).given.size(), 1U);
  EXPECT_FALSE(first(a).dose);
  ASSERT_TRUE(a.dosing.at(0).dogs.at(1).skipped);
  EXPECT_EQ(a.dosing.at(0).dogs.at(1).skipped->what.reason, "loose stools");
  EXPECT_FALSE(a.dosing.at(0).together);
  a = story.strike(id, kNight + minutes(35)).assess(kNight + hours(1));
  EXPECT_TRUE(first(a).given.empty());
  EXPECT_TRUE(first(a).dose);
}

TEST(DosingRound, TheDamOnlyWhereTheLabelSaysSo) {
  auto story = litter();
  auto p = suspension();
  with(story, p);
  EXPECT_EQ(story.assess(kNight).dosing.at(0).dogs.size(), 2U);
  p.for_dam = true;
  story.tell(kNight - days(9), "", p).weighed("dam", 30000, kNight - days(2));
  const auto a = story.assess(kNight);
  ASSERT_EQ(a.dosing.size(), 1U) << "the label written later replaces the one before";
  const auto& dam = a.dosing.at(0).dogs.back();
  EXPECT_EQ(dam.about, "dam");
  ASSERT_TRUE(dam.dose);
  EXPECT_NEAR(dam.dose->exact.count, 30 * 5 / 4.54, 1e-9);
  EXPECT_EQ(std::string(story.assess(kNight + days(20)).dosing.at(0).dogs.back().refused.back().code), "STALE_WEIGHT");
}

TEST(DosingRound, ADamsWeightThatCannotBeHersGivesNoDose) {
  const auto refused = [](std::vector<double> grams, std::optional<double> kg) -> std::string {
    auto story = litter();
    auto p = suspension();
    p.for_dam = true;
    with(story, p);
    if (kg) {
      record::LitterFacts f;
      f.dam = record::Parent{};
      f.dam->kg = Kilograms{*kg};
      story.facts(f);
    }
    for (std::size_t i = 0; i < grams.size(); ++i)
      story.weighed("dam", grams[i], kNight - days(2) + hours(static_cast<double>(i)));
    const auto a = story.assess(kNight);
    const auto& dam = a.dosing.at(0).dogs.back();
    EXPECT_EQ(dam.about, "dam");
    EXPECT_EQ(dam.refused.empty(), dam.dose.has_value());
    return dam.refused.empty() ? "" : std::string(dam.refused.back().code);
  };
  EXPECT_EQ(refused({30000}, 30), "");
  EXPECT_EQ(refused({41900}, 30), "");  // carrying ten
  EXPECT_EQ(refused({42100}, 30), "WEIGHTS_APART");
  EXPECT_EQ(refused({140000}, 30), "WEIGHTS_APART");  // pounds, or a point left out
  EXPECT_EQ(refused({17900}, 30), "WEIGHTS_APART");
  EXPECT_EQ(refused({36000, 30000}, 20), "");  // what the scale said before counts more than what was once noted
  EXPECT_EQ(refused({30000, 3000}, {}), "WEIGHTS_APART");
  EXPECT_EQ(refused({499}, {}), "TOO_LIGHT");
  EXPECT_EQ(refused({500}, 0.6), "");
}

// The course to 12 weeks at the label's interval, by each pup's own pace: more than today's dose times the treatments
// (they grow), and with room for the heavy end.
TEST(DosingRound, WhatToBuyForTheCourse) {
  auto story = litter();
  with(story, suspension());
  const auto round = story.assess(kNight).dosing.at(0);
  ASSERT_TRUE(round.course);
  EXPECT_EQ(round.treatments, 5);  // days 21, 35, 49, 63, 77
  EXPECT_EQ(round.course->doses, 10);
  EXPECT_GT(round.course->likely.count, 10 * 1.3);
  EXPECT_GT(round.course->heavy.count, round.course->likely.count);
  story.tell(kNight - days(7), "1", given(1)).tell(kNight - days(7), "2", given(1));  // next on day 28
  EXPECT_EQ(story.assess(kNight).dosing.at(0).treatments, 5);                         // days 28, 42, 56, 70, 84
  // With a dam of 31 kg a pup gains at least 2.2 g/kg a day later on (Dog Owner's Home Veterinary Handbook): in the
  // seven weeks from day 28 to day 77 more than 3.3 kg.
  const auto a = story.assess(kNight);
  const auto late = care::weight_then(a.pups.at(0), kNight + days(56), Kilograms{31}, reference::built_in());
  const auto& then = std::get<care::WeightThen>(late);
  EXPECT_GT(then.likely.count(), 1.2 + 49 * 2.2 * 31 / 1000);
  EXPECT_GT(then.heavy.count(), then.likely.count() + 49 * 1.0 * 31 / 1000);
}

TEST(DoseFindings, TwoPeopleWroteDifferentAmounts) {
  auto story = litter();
  with(story, suspension());
  story.tell(kNight - minutes(40), "1", given(1.3));
  story.entries().back().by = "Tess";
  story.tell(kNight - minutes(10), "1", given(1.2));
  story.entries().back().by = "phone";
  const auto a = story.assess(kNight);
  const auto* f = find(a, "DOSE_TWICE", "1");
  ASSERT_NE(f, nullptr) << codes(a);
  for (const char* said : {"1.3 ml", "1.2 ml", "Tess", "phone"})
    EXPECT_NE(f->because.find(said), std::string::npos) << f->because;
  EXPECT_EQ(find(a, "DOSE_TWICE", "2"), nullptr);
}

TEST(DoseFindings, AnotherBottlesStrengthIsReckonedWith) {
  auto story = litter();
  with(story, suspension());
  auto strong = given(1.3);
  strong.mg_ml = MgPerMl{50};  // eleven times the label's
  story.tell(kNight - minutes(40), "1", strong);
  EXPECT_EQ(level_of(story.assess(kNight), "DOSE_OVER", "1"), Level::call_vet);
}

TEST(DoseFindings, AnOldSlipIsNotToldForEver) {
  auto story = litter(40);
  with(story, suspension());
  story.tell(kNight - days(9), "1", given(1)).tell(kNight - days(9) + hours(1), "1", given(1));
  EXPECT_EQ(find(story.assess(kNight), "DOSE_TWICE"), nullptr);
  EXPECT_NE(find(story.assess(kNight - days(8)), "DOSE_TWICE"), nullptr);
}

}  // namespace
}  // namespace lampside::testing
