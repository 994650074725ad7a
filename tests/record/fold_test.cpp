#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <random>

#include "make.hpp"
#include "record/litter.hpp"

namespace lampside::record {
namespace {

using namespace testing;

Entry strike(int n, int target) { return entry(n, "2026-10-06T12:00:00Z", "", Strike{id(target)}); }
Entry correction(Entry e, int target) {
  e.corrects = id(target);
  return e;
}
std::vector<Entry> base() {
  return {entry(1, "2026-10-05T02:00:00Z", "1", birth(400)), entry(2, "2026-10-05T02:40:00Z", "2", birth(420)),
          entry(3, "2026-10-06T08:00:00Z", "1", Weight{Grams{410}, {}, {}}),
          entry(4, "2026-10-06T08:01:00Z", "2", Weight{Grams{433}, {}, {}})};
}
Litter folded(const std::vector<Entry>& entries) { return fold(entries, "juniper-2026", Zone{}); }
/// Everything that could differ, in one comparable text.
std::string told(const Litter& l) {
  std::string out;
  for (const auto& e : l.log) out += encode_line(e) + "\n";
  out += "--\n";
  for (const auto& e : l.struck) out += encode_line(e) + "\n";
  for (const auto& m : l.misfits) out += m.id + m.code + m.why + "\n";
  for (const auto& p : l.pups) {
    out += fmt::format("{} {} {}", p.label, p.order, p.in_box());
    for (const auto& w : p.weights) out += fmt::format(" {}@{}", w.what.grams.count(), w.id);
    out += "\n";
  }
  return out;
}

TEST(Fold, BirthWeightIsTheFirstWeight) {
  const Litter l = folded(base());
  ASSERT_EQ(l.pups.size(), 2u);
  ASSERT_EQ(l.pup("1")->weights.size(), 2u);
  EXPECT_EQ(l.pup("1")->weights[0].what.grams, Grams{400});
  EXPECT_EQ(l.pup("1")->weights[0].id, id(1));
  EXPECT_EQ(l.pup("2")->order, 2);
  EXPECT_TRUE(l.misfits.empty());
}

TEST(Fold, ALabelGivenOnIsReadByWhatItMeantWhenItWasWritten) {
  // Red becomes blue on day 3, and green takes the red collar: what was written under "red" before is blue's.
  const auto renamed = [](int n, const char* born, const char* written, const char* about, double grams, int target) {
    Entry e = correction(entry(n, born, about, birth(grams)), target);
    e.written = when(written);
    return e;
  };
  std::vector<Entry> entries{entry(1, "2026-10-05T02:00:00Z", "red", birth(400)),
                             entry(2, "2026-10-05T02:40:00Z", "green", birth(300)),
                             entry(3, "2026-10-06T08:00:00Z", "red", Weight{Grams{430}, {}, {}}),
                             entry(4, "2026-10-06T08:01:00Z", "green", Weight{Grams{320}, {}, {}}),
                             renamed(5, "2026-10-05T02:00:00Z", "2026-10-08T09:00:00Z", "blue", 400, 1),
                             renamed(6, "2026-10-05T02:40:00Z", "2026-10-08T09:01:00Z", "red", 300, 2),
                             entry(7, "2026-10-09T08:00:00Z", "red", Weight{Grams{360}, {}, {}}),
                             entry(8, "2026-10-09T08:01:00Z", "green", Weight{Grams{361}, {}, {}})};
  const Litter l = folded(entries);
  EXPECT_TRUE(l.misfits.empty()) << l.misfits.front().why;
  const auto grams = [&](const char* label) {
    std::vector<double> out;
    for (const auto& w : l.pup(label)->weights) out.push_back(w.what.grams.count());
    return out;
  };
  EXPECT_EQ(grams("blue"), (std::vector<double>{400, 430}));
  EXPECT_EQ(grams("red"), (std::vector<double>{300, 320, 360, 361})) << "and an old phone's \"green\" too";
}

TEST(Fold, OfOneMomentTheOneWrittenLaterComesLater) {
  auto entries = base();
  auto first = entry(90, "2026-10-07T08:00:00Z", "1", Weight{Grams{300}, {}, {}});
  auto second = entry(10, "2026-10-07T08:00:00Z", "1", Weight{Grams{430}, {}, {}});
  second.written = when("2026-10-07T08:00:20Z");
  entries.push_back(first), entries.push_back(second);
  EXPECT_EQ(folded(entries).pup("1")->weights.back().what.grams, Grams{430});
}

TEST(Fold, AWeightAfterDeathIsSaid) {
  auto entries = base();
  entries.push_back(entry(5, "2026-10-06T20:00:00Z", "1", Death{}));
  entries.push_back(entry(6, "2026-10-07T08:00:00Z", "1", Weight{Grams{440}, {}, {}}));
  const Litter l = folded(entries);
  ASSERT_EQ(l.misfits.size(), 1u);
  EXPECT_EQ(l.misfits[0].code, "AFTER_DEATH");
  EXPECT_EQ(l.misfits[0].id, id(6));
}

// A file may hold a chain as long as it likes: each strikes the one before out, so the last decides about all.
TEST(Fold, AChainOfStrikesNeedsNoDeepStack) {
  constexpr int kChain = 150'000;
  std::vector<Entry> entries{base().front()};
  for (int n = 2; n <= kChain; ++n) entries.push_back(entry(n, "2026-10-06T12:00:00Z", "", Strike{id(n - 1)}));
  EXPECT_EQ(folded(entries).pups.size(), 0u) << "an odd number of strikes";
}
TEST(Fold, ARingOfStrikesEnds) {
  auto entries = base();
  entries.push_back(strike(5, 6));
  entries.push_back(strike(6, 5));
  EXPECT_EQ(folded(entries).pups.size(), 2u);
}

TEST(Fold, CorrectionsStandInForTheirEntryAndBothStayReadable) {
  auto entries = base();
  entries.push_back(correction(entry(5, "2026-10-06T08:00:00Z", "1", Weight{Grams{416}, {}, {}}), 3));
  const Litter l = folded(entries);
  ASSERT_EQ(l.pup("1")->weights.size(), 2u);
  EXPECT_EQ(l.pup("1")->weights[1].what.grams, Grams{416});
  ASSERT_EQ(l.struck.size(), 1u);
  EXPECT_EQ(l.struck[0].id, id(3));
}

TEST(Fold, StrikingACorrectionBringsTheFirstEntryBack) {
  auto entries = base();
  entries.push_back(correction(entry(5, "2026-10-06T08:00:00Z", "1", Weight{Grams{416}, {}, {}}), 3));
  entries.push_back(strike(6, 5));
  EXPECT_EQ(folded(entries).pup("1")->weights[1].what.grams, Grams{410});
  entries.push_back(strike(7, 6));  // and striking the strike brings the correction back
  EXPECT_EQ(folded(entries).pup("1")->weights[1].what.grams, Grams{416});
}

TEST(Fold, StrikingTheFirstEntryTakesItsCorrectionsWithIt) {
  auto entries = base();
  entries.push_back(correction(entry(5, "2026-10-06T08:00:00Z", "1", Weight{Grams{416}, {}, {}}), 3));
  entries.push_back(strike(6, 3));
  EXPECT_EQ(folded(entries).pup("1")->weights.size(), 1u);
}

// No clock decides between two people: both stay, and a person is told.
TEST(Fold, TwoCorrectionsOfOneEntryBothStay) {
  auto entries = base();
  entries.push_back(correction(entry(5, "2026-10-06T08:00:00Z", "1", Weight{Grams{416}, {}, {}}), 3));
  entries.push_back(correction(entry(6, "2026-10-06T08:00:00Z", "1", Weight{Grams{461}, {}, {}}), 3));
  const Litter l = folded(entries);
  EXPECT_EQ(l.pup("1")->weights.size(), 3u);
  ASSERT_EQ(l.misfits.size(), 1u);
  EXPECT_EQ(l.misfits[0].code, "TWO_CORRECTIONS");
  EXPECT_EQ(l.misfits[0].id, id(3));
}

TEST(Fold, WhatCannotBePlacedIsKeptAndTold) {
  auto entries = base();
  entries.push_back(entry(5, "2026-10-06T08:00:00Z", "9", Weight{Grams{416}, {}, {}}));
  entries.push_back(entry(6, "2026-10-04T08:00:00Z", "1", Weight{Grams{416}, {}, {}}));
  entries.push_back(entry(7, "2026-10-05T03:00:00Z", "2", birth(300)));
  entries.push_back(strike(8, 4711));
  const Litter l = folded(entries);
  std::vector<std::string> codes;
  for (const auto& m : l.misfits) codes.push_back(m.code);
  EXPECT_EQ(codes, (std::vector<std::string>{"NEVER_BORN", "BEFORE_BIRTH", "BORN_TWICE", "STRIKES_NOTHING"}));
  EXPECT_EQ(l.pups.size(), 2u);
}

TEST(Fold, LitterFactsAreLaidOverEachOther) {
  LitterFacts first, second;
  first.dam = Parent{"Juniper", "Golden Retriever", {}, Kilograms{31}, {}};
  first.zone = "Europe/London";
  second.dam = Parent{{}, {}, {}, Kilograms{33}, {}};
  second.scale_g = Grams{5};
  const Litter l = folded({entry(1, "2026-08-01T12:00:00Z", "", first), entry(2, "2026-09-01T12:00:00Z", "", second)});
  EXPECT_EQ(l.dam_name(), "Juniper");
  EXPECT_EQ(l.facts.dam->kg, Kilograms{33});
  EXPECT_EQ(l.facts.scale_g, Grams{5});
  EXPECT_EQ(zone_name(l.log, "juniper-2026"), "Europe/London");
}

TEST(Fold, OtherLittersArePassedOver) {
  auto entries = base();
  entries.push_back(make_entry(id(50), "other", when("2026-10-06T08:00:00Z"), when("2026-10-06T08:00:00Z"), "", "1",
                               Weight{Grams{99}, {}, {}}));
  EXPECT_EQ(folded(entries).pup("1")->weights.size(), 2u);
  EXPECT_EQ(litters_in(entries), (std::vector<std::string>{"juniper-2026", "other"}));
}

TEST(Fold, OfSeveralLabelsTheLatestHoldsAndAFamilysEntriesAreLaidOver) {
  auto entries = base();
  entries.push_back(entry(61, "2026-10-06T09:00:00Z", "", Milk{"tin", KcalPerMl{1.0}, {}, {}, {}}));
  entries.push_back(entry(62, "2026-10-06T10:00:00Z", "", Milk{"tin", KcalPerMl{1.2}, {}, {}, {}}));
  entries.push_back(
      entry(63, "2026-09-01T10:00:00Z", "", Family{"f1", FamilyStatus::waiting, Sex::male, {}, {}, {}, {}}));
  entries.push_back(entry(64, "2026-10-08T10:00:00Z", "", Family{"f1", {}, {}, "black", {}, {}, {}}));
  const Litter l = folded(entries);
  ASSERT_EQ(l.milks.size(), 1u);
  EXPECT_EQ(l.milks[0].what.kcal_ml, KcalPerMl{1.2});
  ASSERT_EQ(l.families.size(), 1u);
  EXPECT_EQ(l.families[0].what.status, FamilyStatus::waiting);
  EXPECT_EQ(l.families[0].what.colour, "black");
}

TEST(Fold, AHandoverIsADeparture) {
  auto entries = base();
  entries.push_back(entry(65, "2026-12-06T09:00:00Z", "1", Handover{"f1", {}, true, {}, {}, {}}));
  const Litter l = folded(entries);
  ASSERT_TRUE(l.pup("1")->handover);
  EXPECT_FALSE(l.pup("1")->in_box());
}

TEST(Fold, HowThePupsLieIsTheBoxsSign) {
  auto entries = base();
  entries.push_back(entry(66, "2026-10-06T09:00:00Z", "", SignSeen{Sign::piled_up}));
  entries.push_back(entry(67, "2026-10-06T09:00:00Z", "1", SignSeen{Sign::no_suck}));
  const Litter l = folded(entries);
  EXPECT_EQ(l.box_signs.size(), 1u);
  EXPECT_EQ(l.pup("1")->signs.size(), 1u);
}

/// A journal with births, weights, corrections, strikes, strikes of strikes, misfits and rings.
std::vector<Entry> any_journal() {
  std::vector<Entry> out;
  const int count = *rc::gen::inRange(1, 25);
  for (int n = 1; n <= count; ++n) {
    const auto other = [&] { return *rc::gen::inRange(1, count + 2); };
    const std::string pup = *rc::gen::element<std::string>("1", "2", "3");
    Entry e;
    switch (*rc::gen::inRange(0, 5)) {
      case 0:
        e = entry(n, "2026-10-05T02:00:00Z", pup, birth(400));
        break;
      case 1:
        e = strike(n, other());
        break;
      case 2:
        e = correction(entry(n, "2026-10-06T08:00:00Z", pup, Weight{Grams{410}, {}, {}}), other());
        break;
      default:
        e = entry(n, "2026-10-06T08:00:00Z", pup, Weight{Grams{400.0 + n}, {}, {}});
    }
    e.at.instant += std::chrono::minutes{*rc::gen::inRange(-600, 600)};
    out.push_back(e);
  }
  return out;
}

RC_GTEST_PROP(Fold, AnyOrderOfArrivalGivesTheSameLitter, ()) {
  const auto journal = any_journal();
  auto shuffled = journal;
  std::mt19937 random(*rc::gen::arbitrary<unsigned>());
  std::shuffle(shuffled.begin(), shuffled.end(), random);
  RC_ASSERT(told(folded(journal)) == told(folded(shuffled)));
}
RC_GTEST_PROP(Fold, ReplayIsHarmless, ()) {
  const auto journal = any_journal();
  auto twice = journal;
  twice.insert(twice.end(), journal.begin(), journal.end());
  RC_ASSERT(told(folded(journal)) == told(folded(twice)));
}
RC_GTEST_PROP(Fold, NothingIsLost, ()) {
  const auto journal = any_journal();
  const Litter l = folded(journal);
  RC_ASSERT(l.log.size() + l.struck.size() == journal.size());
}

TEST(KnownAt, TakesTheMomentItself) {
  const auto entries = base();
  EXPECT_EQ(known_at(entries, when("2026-10-06T08:00:00Z").instant).size(), 3u);
  EXPECT_EQ(known_at(entries, when("2026-10-06T07:59:59Z").instant).size(), 2u);
}

}  // namespace
}  // namespace lampside::record
