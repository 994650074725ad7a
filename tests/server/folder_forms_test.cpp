// The forms of the day a pup leaves: what is refused, and that nothing typed is lost.
#include <gtest/gtest.h>

#include "house.hpp"

namespace lampside::server::test {
namespace {

// The pups of the house were born on 1 March.
TEST(FolderForms, AHandoverBeforeTheLawsDayIsRefusedWithItsLineAndKeepsWhatWasTyped) {
  House house{"2026-04-20T10:00:00+02:00"};
  house.with_pups();
  house.post("/l/juniper-2026/settings", {{"place", "GB-ENG"}});
  const Fields form{{"kind", "handover"},
                    {"about", "1"},
                    {"back", "handover?label=1"},
                    {"signed", "true"},
                    {"note", "their car is small"}};
  const auto refused = house.record(form);
  EXPECT_EQ(refused.status, 422);
  EXPECT_TRUE(holds(refused, "SI 2018/486")) << refused.body.substr(0, 2000);
  EXPECT_TRUE(holds(refused, "their car is small"));
  auto excepted = form;
  excepted.insert(excepted.end(), {{"exception", "the dam died"}, {"vet", "the vet in Mill Lane"}});
  EXPECT_EQ(house.record(excepted).status, 303);
  const auto kept = std::get<record::Handover>(house.last().body);
  EXPECT_EQ(kept.vet, "the vet in Mill Lane");
  house.turn_clock("2026-05-10T10:00:00+02:00");
  auto other = form;
  other[1].second = "2";
  EXPECT_EQ(house.record(other).status, 303);
}

TEST(FolderForms, AChipTypedTwiceDifferentlyIsAskedAbout) {
  House house{"2026-04-20T10:00:00+02:00"};
  house.with_pups();
  const auto chip = [&](const std::string& again) {
    return house.record({{"kind", "microchip"},
                         {"about", "1"},
                         {"back", "care"},
                         {"number", "826098000000004"},
                         {"number_again", again}});
  };
  const auto before = house.journal.all().size();
  const auto differs = chip("826098000000040");
  EXPECT_EQ(differs.status, 422);
  EXPECT_TRUE(holds(differs, "826098000000040"));
  EXPECT_EQ(chip("").status, 422);
  EXPECT_EQ(house.journal.all().size(), before);
  EXPECT_EQ(chip("826098000000004").status, 303);
  // And on the day another number is refused.
  house.turn_clock("2026-05-10T10:00:00+02:00");
  const auto other = house.record(
      {{"kind", "handover"}, {"about", "1"}, {"back", "handover?label=1"}, {"chip_read", "826098000000005"}});
  EXPECT_EQ(other.status, 422);
  EXPECT_TRUE(holds(other, "826098000000004"));
}

TEST(FolderForms, TheSheetAsTextAndPagesThatLookBack) {
  House house{"2026-04-20T10:00:00+02:00"};
  house.with_pups();
  const auto text = house.get("/l/juniper-2026/paper/pup-sheet.txt?pup=1");
  EXPECT_EQ(text.status, 200);
  EXPECT_EQ(text.header("content-type"), "text/plain; charset=utf-8");
  EXPECT_TRUE(holds(text, "May leave from"));
  EXPECT_EQ(house.get("/l/juniper-2026/paper/pup-sheet.txt?pup=nobody").status, 404);
  EXPECT_EQ(house.get("/l/juniper-2026/paper/folder.txt?pup=1").status, 404);
  EXPECT_TRUE(holds(house.get("/l/juniper-2026/look-back"), "Birth weights"));
  EXPECT_TRUE(holds(house.get("/l/juniper-2026/handover?label=1"), "Old enough by law"));
}

}  // namespace
}  // namespace lampside::server::test
