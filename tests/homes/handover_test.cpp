// The day a pup leaves, against the law of the place and the facts of the day.
#include "homes/handover.hpp"

#include <gtest/gtest.h>

#include "homes/feeding_at_home.hpp"
#include "homes/pup_facts.hpp"
#include "told.hpp"

namespace lampside::testing {
namespace {

const auto& tables() { return reference::built_in(); }
record::LitterFacts living_in(const std::string& place) {
  record::LitterFacts f{};
  f.place = place;
  return f;
}
record::Handover scanned(const std::string& chip) {
  record::Handover h{};
  h.chip_read = chip;
  return h;
}
const std::string kChip = "826098000000004";

struct Told {
  record::Litter litter;
  advice::Assessment assessment;
};
Told at(const Story& story, Instant now) { return {story.litter(), story.assess(now)}; }

// SI 2018/486 Sch 6 para 1(5) (England): under 8 weeks; Code rural L214-8 (France): more than 8 weeks; Virginia: 7
// weeks (animallaw.info, tables of state laws 2006-2020).
TEST(Handover, TheLawOfThePlaceSaysHowOld) {
  for (const auto& [place, days_asked] : {std::pair{"GB-ENG", 56}, {"FR", 57}, {"US-VA", 49}, {"", 56}, {"BR", 56}}) {
    Story story;
    if (*place) story.facts(living_in(place));
    story.born("1", kNight);
    const auto litter = story.litter();
    const auto& pup = litter.pups.front();
    EXPECT_EQ(homes::legal_age(litter, tables()).least.count(), days_asked) << place;
    const auto early = homes::may_leave(litter, tables(), pup, {}, kNight + days(days_asked - 1));
    ASSERT_FALSE(early) << place;
    EXPECT_EQ(early.error().code, "HANDOVER_TOO_YOUNG");
    EXPECT_TRUE(homes::may_leave(litter, tables(), pup, {}, kNight + days(days_asked))) << place;
  }
}

TEST(Handover, TheRefusalCarriesTheLawsLine) {
  Story story;
  story.facts(living_in("GB-ENG")).born("1", kNight);
  const auto litter = story.litter();
  const auto early = homes::may_leave(litter, tables(), litter.pups.front(), {}, kNight + days(50));
  ASSERT_FALSE(early);
  EXPECT_NE(early.error().what.find("SI 2018/486"), std::string::npos) << early.error().what;
  EXPECT_NE(early.error().what.find("under 8 weeks"), std::string::npos) << early.error().what;
}

TEST(Handover, AVetsExceptionNeedsTheVetAndTheReason) {
  Story story;
  story.facts(living_in("GB-ENG")).born("1", kNight);
  const auto litter = story.litter();
  record::Handover h{};
  h.exception = "the dam died";
  EXPECT_FALSE(homes::may_leave(litter, tables(), litter.pups.front(), h, kNight + days(50)));
  h.vet = "the vet in Mill Lane";
  EXPECT_TRUE(homes::may_leave(litter, tables(), litter.pups.front(), h, kNight + days(50)));
  // And a pup that left by it is not told of as one that left too young.
  story.tell(kNight + days(50), "1", h);
  for (const auto& f : story.assess(kNight + days(51)).findings) EXPECT_NE(f.code, "LEFT_TOO_YOUNG");
}

TEST(Handover, AnotherChipIsAskedAbout) {
  Story story;
  story.born("1", kNight).tell(kNight + days(49), "1", record::Microchip{kChip, {}});
  const auto litter = story.litter();
  EXPECT_TRUE(
      homes::may_leave(litter, tables(), litter.pups.front(), scanned("826 098 000 000 004"), kNight + days(60)));
  const auto other =
      homes::may_leave(litter, tables(), litter.pups.front(), scanned("826098000000005"), kNight + days(60));
  ASSERT_FALSE(other);
  EXPECT_EQ(other.error().code, "HANDOVER_CHIP");
}

std::optional<bool> holds(const std::vector<homes::DayCheck>& checks, std::string_view id) {
  for (const auto& c : checks)
    if (c.id == id) return c.holds;
  ADD_FAILURE() << "no check " << id;
  return {};
}

TEST(Handover, TheChecksOfTheDay) {
  Story story;
  story.born("1", kNight, 400).tell(kNight + days(49), "1", record::Microchip{kChip, {}});
  record::Dose dose{};
  dose.product = "wormer";
  story.tell(kNight + days(46), "1", dose);
  story.weighed("1", 5000, kNight + days(60));
  const auto now = kNight + days(60) + minutes(30);
  const auto [litter, assessment] = at(story, now);
  const auto before = homes::day_checks(litter, tables(), assessment.care, litter.pups.front(), now, nullptr);
  EXPECT_EQ(holds(before, "age"), true);
  EXPECT_EQ(holds(before, "chip"), std::nullopt);  // not scanned yet
  EXPECT_EQ(holds(before, "wormed"), true);        // 14 days ago
  EXPECT_EQ(holds(before, "weighed"), true);
  EXPECT_EQ(holds(before, "signed"), std::nullopt);
  auto h = scanned(kChip);
  h.contract_signed = true;
  const auto after = homes::day_checks(litter, tables(), assessment.care, litter.pups.front(), now + days(1), &h);
  EXPECT_EQ(holds(after, "chip"), true);
  EXPECT_EQ(holds(after, "wormed"), false);  // 15 days ago
  EXPECT_EQ(holds(after, "weighed"), false);
  EXPECT_EQ(holds(after, "signed"), true);
  EXPECT_EQ(holds(after, "papers"), false);
}

TEST(Handover, OnlyFamiliesThatAgreedAreAskedAndOnceAYear) {
  Story story;
  story.born("1", kNight).born("2", kNight + minutes(30));
  for (const auto* who : {"1", "2"}) {
    record::Handover h{};
    h.family = "f" + std::string(who);
    story.tell(kNight + days(60), who, h);
  }
  story.tell(kNight + days(60), "", record::Consent{"f1", "follow_up", true});
  const auto asked = homes::to_ask(story.litter(), tables(), kNight + days(80));
  ASSERT_EQ(asked.size(), 1U);
  EXPECT_EQ(asked[0].pup, "1");
  story.tell(kNight + days(81), "1", record::FollowUp{Grams{7000}, "well"});
  EXPECT_TRUE(homes::to_ask(story.litter(), tables(), kNight + days(200)).empty());
  EXPECT_EQ(homes::to_ask(story.litter(), tables(), kNight + days(81 + 365)).size(), 1U);
  story.tell(kNight + days(500), "", record::Erased{"f1"});
  EXPECT_TRUE(homes::to_ask(story.litter(), tables(), kNight + days(501)).empty());
}

// The facts for strangers hold nothing of families, notes or numbers.
TEST(PupFacts, NothingPersonal) {
  Story story;
  record::Birth birth{};
  birth.sex = record::Sex::female;
  story.breed("Golden Retriever").tell(kNight, "1", birth);
  story.tell(kNight + days(49), "1", record::Microchip{kChip, {"a register"}});
  story.tell(kNight + days(60), "1", record::Departure{"the Ashdown family"});
  const auto now = kNight + days(61);
  const auto [litter, assessment] = at(story, now);
  const auto text = homes::pup_text(litter, tables(), assessment.care, litter.pups.front(), now);
  EXPECT_NE(text.find("Golden Retriever"), std::string::npos) << text;
  EXPECT_NE(text.find("bitch"), std::string::npos);
  EXPECT_NE(text.find("May leave from"), std::string::npos);
  EXPECT_EQ(text.find("Ashdown"), std::string::npos);
  EXPECT_EQ(text.find(kChip), std::string::npos);
}

// National Research Council 2006, growing puppies, from memory: 130 x kg^0.75 x 3.2 x (e^(-0.87 p) - 0.1). By hand for
// 10 kg of 20: 130 x 5.6234 = 731.04; e^-0.435 - 0.1 = 0.54726; x 3.2 = 1.75125; 1280.2.
TEST(FeedingAtHome, TheFormula) {
  EXPECT_NEAR(homes::growing_needs(tables(), Kilograms{10}, Kilograms{20}).count(), 1280.2, 0.5);
}

TEST(FeedingAtHome, FromItsOwnWeightOrNotAtAll) {
  Story story;
  story.born("1", kNight).breed("Golden Retriever");  // the dam weighs 31 kg
  record::Litter litter = story.litter();
  EXPECT_NE(std::get_if<reference::NotAssessed>(&*std::make_unique<reference::Assessed<homes::FeedingSheet>>(
                homes::feeding_sheet(litter, tables(), litter.pups.front()))),
            nullptr);
  story.weighed("1", 6000, kNight + days(56)).tell(kNight, "", record::Food{"kibble", Kilocalories{400}});
  litter = story.litter();
  const auto sheet = std::get<homes::FeedingSheet>(homes::feeding_sheet(litter, tables(), litter.pups.front()));
  EXPECT_TRUE(sheet.adult_from_dam);
  ASSERT_EQ(sheet.rations.size(), 5U);
  EXPECT_EQ(sheet.rations[0].weighs.count(), 6);
  EXPECT_NEAR(sheet.rations[0].food->count(), sheet.rations[0].a_day.count() / 4, 1e-9);
  for (std::size_t i = 1; i < 5; ++i) EXPECT_GT(sheet.rations[i].a_day, sheet.rations[i - 1].a_day);
}

}  // namespace
}  // namespace lampside::testing
