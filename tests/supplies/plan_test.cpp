// What the keeper is told: what is missing, by when, on which trip; and what is typed badly.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <set>

#include "told.hpp"

namespace lampside::supplies {
namespace {

using namespace lampside::testing;
using reference::built_in;
using std::chrono::days;
using ::testing::HasSubstr;

lampside::Span d(double n) { return lampside::testing::days(n); }

Story golden() {
  Story story;
  story.breed("Golden Retriever").mated(kNight - d(50));
  return story;
}
Instant before(const Story& story, double left) { return opens(story) - d(left); }

const reference::Finding* told(const advice::Assessment& a, std::string_view code) {
  for (const auto& f : a.findings)
    if (f.code == code) return &f;
  return nullptr;
}

TEST(Table, MarksGroupsAndCoursesAreKnownWords) {
  const std::set<std::string> marks{"essential", "kit", "car", "make", "vet_only"},
      groups{"birth", "pups", "dam", "house", "car", "later", "vet"}, courses{"", "replacer", "dam_food", "worming"};
  std::set<std::string> names;
  for (const auto& row : built_in().supplies) {
    std::string word;
    for (const char c : std::string(row.marks) + " ") {
      if (c != ' ') {
        word += c;
        continue;
      }
      EXPECT_TRUE(word.empty() || marks.count(word)) << row.item << ": " << word;
      word.clear();
    }
    EXPECT_TRUE(groups.count(std::string(row.group))) << row.item;
    EXPECT_TRUE(courses.count(std::string(row.course))) << row.item;
    EXPECT_TRUE(names.insert(std::string(row.item)).second) << row.item << " twice";
    EXPECT_EQ(row_of(built_in(), row.item), &row);
    if (!row.is("vet_only")) {
      EXPECT_LT(row.by_d, row.until_d) << row.item;
      EXPECT_FALSE(is_vet_only(built_in(), row.item)) << row.item;
      EXPECT_GT(std::get<Amount>(need(row, 1, {Grams{400}, Kilograms{30}, 0}, built_in())).count(), 0) << row.item;
    }
  }
}

TEST(Litter, AnXrayCountIsAMinimum) {
  Story story = golden();
  story.tell(kNight - d(2), "dam", record::PupCount{record::CountMethod::xray, 10, {}});
  const auto size = litter_size(story.litter(), built_in(), kNight);
  for (int n = 0; n < 10; ++n) EXPECT_EQ(size.chance[static_cast<std::size_t>(n)], 0) << n;
  EXPECT_GT(size.at(0.95), 10);
  EXPECT_THAT(size.says, HasSubstr("at least 10 counted by X-ray"));
  // A count far beyond what the breed has is a count all the same.
  story.tell(kNight - d(1), "dam", record::PupCount{record::CountMethod::xray, 22, {}});
  EXPECT_GE(litter_size(story.litter(), built_in(), kNight).at(0.5), 22);
}

TEST(Litter, HerOwnLittersWhereTheBreedIsNotInTheTable) {
  Story story;
  story.breed("Farm dog");
  story.tell(kNight - d(300), "dam", record::EarlierLitter{record::Anchor::mating, Days{63}, 3, 1, {}, {}});
  const auto size = litter_size(story.litter(), built_in(), kNight);
  EXPECT_EQ(size.at(0.5), 4);
  EXPECT_THAT(size.says, HasSubstr("earlier litters had 4 pups"));
}

// Repeatability 0.15: three litters of 3 in a breed of 7.8 weigh 3 x 0.15 / (1 + 2 x 0.15) = 0.346, so 7.8 - 0.346
// x 4.8 = 6.1; one weighs 0.15, so 7.1. By hand.
TEST(Litter, HerOwnLittersBesideHerBreedAreHeardALittle) {
  Story story = golden();
  const auto say = [&] { return litter_size(story.litter(), built_in(), kNight).says; };
  EXPECT_THAT(say(), Not(HasSubstr("her own")));
  story.tell(kNight - d(900), "dam", record::EarlierLitter{record::Anchor::mating, Days{63}, 3, 0, {}, {}});
  EXPECT_THAT(say(), HasSubstr("with her own litter of 3: 7.1"));
  for (const int ago : {600, 300})
    story.tell(kNight - d(ago), "dam", record::EarlierLitter{record::Anchor::mating, Days{63}, 2, 1, {}, {}});
  EXPECT_THAT(say(), HasSubstr("with her own 3 litters of 3: 6.1"));
}

TEST(Litter, AfterwardsThePupsInTheBox) {
  Story story = golden();
  story.born("1", kNight - d(3), 400).born("2", kNight - d(3), 400).born("3", kNight - d(3), 400, false);
  EXPECT_EQ(litter_size(story.litter(), built_in(), kNight).at(0.95), 2);
  // While she whelps more may come, and one that was lost needs nothing.
  EXPECT_GT(litter_size(story.litter(), built_in(), kNight - d(3)).at(0.95), 4);
  EXPECT_GE(litter_size(story.litter(), built_in(), kNight - d(3)).at(0.001), 2);
}

TEST(Plan, OldEntriesWithItemAndHaveAloneAreStillUnderstood) {
  Story story = golden();
  const auto old = record::decode_line(
      R"({"id":"00000000-0000-4000-8000-0000000000ff","litter":"juniper-2026","at":"2026-09-20T18:02:00+01:00","kind":"stock","item":"Milk replacer, g","have":400})");
  ASSERT_TRUE(old);
  story.entries().push_back(*old);
  const auto plan = plan_of(story);
  EXPECT_EQ(line_of(plan, "milk replacer, powder").have, Amount{400});
  EXPECT_EQ(line_of(plan, "milk replacer, powder").where, record::Keeping::house);
}

TEST(Plan, SaysWhatIsNotInTheHouseAndWhenSheIsDue) {
  Story story = golden();
  all_there(story, before(story, 30));
  for (const char* gone : {"scissors, blunt, boiled", "heat lamp bulbs"})
    story.tell(before(story, 20), "", stock(gone, 0));
  const auto a = story.assess(before(story, 9));
  const auto* f = told(a, "SUPPLIES_MISSING");
  ASSERT_NE(f, nullptr);
  EXPECT_EQ(f->level, reference::Level::watch);
  EXPECT_THAT(f->because, HasSubstr("2 things are not in the house, and her window opens in 9 days"));
  EXPECT_THAT(f->because, HasSubstr("heat lamp bulbs"));
  EXPECT_EQ(told(story.assess(before(story, 5)), "SUPPLIES_MISSING")->level, reference::Level::act);
  // Nobody goes to the shops while she whelps: that night has its own list.
  Story night = story;
  night.sign(Sign::strong_straining, before(story, 5));
  EXPECT_EQ(told(night.assess(before(story, 5) + hours(1)), "SUPPLIES_MISSING"), nullptr);
  // After the birth the scissors are no matter; the spare bulb is.
  story.born("1", kNight + d(20), 400);
  const auto after = story.assess(kNight + d(25));
  ASSERT_NE(told(after, "SUPPLIES_MISSING"), nullptr);
  EXPECT_THAT(told(after, "SUPPLIES_MISSING")->because,
              HasSubstr("1 thing is not in the house, and the pups are here: heat lamp bulbs"));
}

TEST(Plan, NothingWrittenDownIsToldOnceAndOnlyBeforeTheBirth) {
  const Story story = golden();
  EXPECT_EQ(told(story.assess(before(story, 20)), "SUPPLIES_UNCHECKED"), nullptr);
  const auto a = story.assess(before(story, 10));
  ASSERT_NE(told(a, "SUPPLIES_UNCHECKED"), nullptr);
  EXPECT_EQ(
      std::count_if(a.findings.begin(), a.findings.end(), [](const auto& f) { return f.code.starts_with("SUPPLIES"); }),
      1);
  Story born = golden();
  born.born("1", kNight, 400);
  EXPECT_EQ(told(born.assess(kNight + d(1)), "SUPPLIES_UNCHECKED"), nullptr);
}

TEST(Plan, StockThatExpiresBeforeItIsNeededIsNoStock) {
  Story story = golden();
  const auto day = day_of(opens(story));
  auto s = stock("milk replacer, powder", 2000);
  s.expires = day - days{3};
  story.tell(kNight - d(20), "", s);
  auto plan = plan_of(story, before(story, 12));
  EXPECT_TRUE(line_of(plan, "milk replacer, powder").expired);
  EXPECT_EQ(line_of(plan, "milk replacer, powder").state, State::missing);
  ASSERT_NE(told(story.assess(before(story, 12)), "SUPPLIES_EXPIRED"), nullptr);
  // Good on the day, but not for four weeks: it counts, and is told of.
  s.expires = day + days{10};
  story.tell(kNight - d(19), "", s);
  plan = plan_of(story, before(story, 12));
  EXPECT_EQ(line_of(plan, "milk replacer, powder").state, State::enough);
  EXPECT_TRUE(line_of(plan, "milk replacer, powder").runs_out);
  EXPECT_NE(told(story.assess(before(story, 12)), "SUPPLIES_EXPIRED"), nullptr);
}

TEST(Plan, ALampIsTriedBeforeHerTimeAndNeverWithoutAGuard) {
  Story story = golden();
  const auto ten = before(story, 10);
  story.tell(ten, "", in_kit("heat lamp or pad", 1)).tell(ten, "", in_kit("heat lamp bulbs", 1));
  auto a = story.assess(ten);
  ASSERT_NE(told(a, "LAMP_UNGUARDED"), nullptr);
  EXPECT_EQ(told(a, "LAMP_UNGUARDED")->level, reference::Level::act);
  ASSERT_NE(told(a, "SUPPLIES_UNTRIED"), nullptr);
  EXPECT_THAT(told(a, "SUPPLIES_UNTRIED")->because, HasSubstr("heat lamp or pad; heat lamp bulbs"));
  EXPECT_EQ(told(story.assess(before(story, 2)), "SUPPLIES_UNTRIED")->level, reference::Level::act);
  story.tell(ten, "", in_kit("lamp guard and chain", 1));
  story.tell(ten, "", in_kit("heat lamp or pad", 1, day_of(ten)))
      .tell(ten, "", in_kit("heat lamp bulbs", 1, day_of(ten)));
  a = story.assess(ten);
  EXPECT_EQ(told(a, "LAMP_UNGUARDED"), nullptr);
  EXPECT_EQ(told(a, "SUPPLIES_UNTRIED"), nullptr);
  // Tried half a year ago is not tried.
  story.tell(ten, "", in_kit("heat lamp or pad", 1, day_of(ten) - days{180}));
  EXPECT_NE(told(story.assess(ten), "SUPPLIES_UNTRIED"), nullptr);
}

TEST(Plan, WholePacksAndTheirPrice) {
  Story story = golden();
  auto s = stock("milk replacer, powder", 100);
  s.pack = Amount{400};
  s.cost = Money{12.5};
  story.tell(kNight, "", s);
  const auto plan = plan_of(story);
  const auto& line = line_of(plan, "milk replacer, powder");
  const double need = std::get<Amount>(line.need).count();
  EXPECT_GT(need, 500);  // twelve pups: one and four beyond the eighth, for a week
  EXPECT_EQ(line.packs, static_cast<int>(std::ceil((need - 100) / 400)));
  EXPECT_EQ(line.cost->thousandths(), 12500 * line.packs);
}

TEST(Plan, TheKeepersOwnThingsAndAmounts) {
  Story story = golden();
  auto own = stock("heart-shaped blanket");
  own.need_per_pup = Amount{0.5};
  own.purpose = "for the basket";
  own.days_before = 3;
  story.tell(kNight, "", own);
  auto pads = stock("Washable  Pads", 4);
  pads.need = Amount{10};
  story.tell(kNight, "", pads);
  const auto plan = plan_of(story);
  const auto& blanket = line_of(plan, "heart-shaped blanket");
  EXPECT_EQ(std::get<Amount>(blanket.need), Amount{6});  // half of twelve
  EXPECT_EQ(*blanket.by, *plan.anchor - days{3});
  EXPECT_EQ(line_of(plan, "washable pads").lacking, Amount{6});
  EXPECT_TRUE(line_of(plan, "washable pads").own_amount);
  auto without = stock("washable pads");
  without.wanted = false;
  story.tell(kNight, "", without);
  EXPECT_EQ(line_of(plan_of(story), "washable pads").state, State::not_needed);
}

TEST(Plan, HerFoodNeedsHerWeight) {
  const Story story = Story{}.mated(kNight - d(50));
  const auto plan = plan_of(story);
  const auto& food = line_of(plan, "dam's food while she nurses");
  ASSERT_TRUE(std::holds_alternative<reference::NotAssessed>(food.need));
  EXPECT_THAT(std::get<reference::NotAssessed>(food.need).why, HasSubstr("weight"));
}

TEST(Plan, WithoutADateAmountsAreToldAndDatesAreNot) {
  const Story story = Story{}.breed("Golden Retriever");
  const auto plan = plan_of(story);
  EXPECT_FALSE(plan.anchor);
  EXPECT_FALSE(line_of(plan, "collars, coloured").by);
  EXPECT_EQ(std::get<Amount>(line_of(plan, "collars, coloured").need), Amount{12});
}

TEST(Shopping, EachThingComesOnTheLastTripThatIsInTime) {
  Story story = golden();
  const auto now = before(story, 26);
  const auto open = day_of(opens(story));
  for (const int left : {24, 16, 8}) story.tell(now, "", record::ShopRun{open - days{left}});
  const auto plan = plan_of(story, now);
  const auto trips = shopping(plan, day_of(now));
  const auto trip_of = [&](std::string_view item) -> const Trip* {
    for (const auto& t : trips)
      for (const auto* line : t.lines)
        if (line->item == item) return &t;
    return nullptr;
  };
  EXPECT_EQ(trip_of("towels, small")->day, open - days{24});               // by day -28: late, so on the first
  EXPECT_EQ(trip_of("collars, coloured")->day, open - days{16});           // by day -14
  EXPECT_EQ(trip_of("dam's food while she nurses")->day, open - days{8});  // by day -7
  EXPECT_TRUE(trip_of("food to go with each pup")->later);                 // by day 49
  EXPECT_EQ(trip_of("whelping box"), nullptr);                             // is made
  std::ptrdiff_t listed = 0;
  std::ptrdiff_t lacking = 0;
  for (const auto& t : trips) listed += std::ssize(t.lines);
  for (const auto& line : plan.lines)
    if (line.lacking.count() > 0) ++lacking;
  EXPECT_EQ(std::ssize(to_make(plan)) + listed, lacking);  // nothing falls between
}

TEST(Shopping, WithoutATripWhatIsNeededSoonStandsFirst) {
  Story story = golden();
  const auto plan = plan_of(story, before(story, 20));
  const auto trips = shopping(plan, day_of(before(story, 20)));
  ASSERT_EQ(trips.size(), 2U);
  EXPECT_FALSE(trips[0].later);
  EXPECT_TRUE(trips[1].later);
}

TEST(Amounts, AsTyped) {
  const auto read = [](std::string_view text, std::string_view unit = "", std::optional<double> pack = {}) {
    const auto a = parse_amount(text, unit, pack ? std::optional{Amount{*pack}} : std::nullopt);
    return a ? say_number(a->count(), 3) : a.error().code;
  };
  EXPECT_EQ(read("12"), "12");
  EXPECT_EQ(read("2,5", "kg"), "2.5");
  EXPECT_EQ(read(" 400 g", "g"), "400");
  EXPECT_EQ(read("0.4 kg", "g"), "400");
  EXPECT_EQ(read("2 packs", "g", 400), "800");
  EXPECT_EQ(read("1 Pack", "", 6), "6");
  EXPECT_EQ(read("2 packs", "g"), "AMOUNT_PACK");
  EXPECT_EQ(read("3 rolls", "rolls"), "3");
  EXPECT_EQ(read("1 roll", "rolls"), "1");
  EXPECT_EQ(read("3 ml", "g"), "AMOUNT_UNIT");
  EXPECT_EQ(read("-3"), "AMOUNT_NEGATIVE");
  EXPECT_EQ(read("\xE2\x88\x92"
                 "3"),
            "AMOUNT_NEGATIVE");
  EXPECT_EQ(read(""), "NUMBER_EMPTY");
  EXPECT_EQ(read("a few"), "NUMBER_EMPTY");
  EXPECT_EQ(read("1,234.5"), "NUMBER_FORMAT");
}

}  // namespace
}  // namespace lampside::supplies
