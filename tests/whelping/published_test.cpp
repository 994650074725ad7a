// The rules against the lists in print, row by row: at the printed limit something at that level or worse is told, and
// where the print itself says nothing yet, no emergency is made of it.
#include <gtest/gtest.h>

#include <set>

#include "../advice/story.hpp"

namespace lampside::testing {
namespace {

Level worst_of(const Story& s, Instant at) {
  Level out = Level::note;
  for (const auto& f : s.assess(at).findings)
    if (f.about == "dam") out = std::min(out, f.level);
  return out;
}
Story at_work(Sign s) { return Story{}.counted(5).mated(kNight - days(62)).sign(s, kNight); }
Story between(Sign s) { return Story{}.counted(5).mated(kNight - days(62)).born("1", kNight, 400).sign(s, kNight); }
Story resting() { return Story{}.counted(5).mated(kNight - days(62)).born("1", kNight, 400); }

struct Row {
  const char* source;
  const char* criterion;
  Story story;
  double min;   ///< minutes after kNight
  Level level;  ///< at least this
};

// Each row with the page it stands on; read in quotation where the book itself was not seen.
std::vector<Row> rows() {
  const char* j = "Jutkowitz 2005, Vet Clin N Am 35:397-420, Box 2 (as quoted)";
  const char* f = "Freshman 2002, in Nelson 2009 (as quoted)";
  const char* m = "Merck Veterinary Manual, labor and delivery";
  return {
      {j, "1 a pup lodged", at_work(Sign::pup_visible), 10, Level::emergency},
      {j, "2 more than 70 days from mating", Story{}.mated(kNight - days(70)), 1, Level::call_vet},
      {j, "3 under 100 F and back, no labour",
       Story{}.mated(kNight - days(62)).temperature("dam", 37.2, kNight - hours(9)).temperature("dam", 38.0, kNight), 1,
       Level::call_vet},
      {j, "4 green discharge or fluid and 2 h", at_work(Sign::green_discharge), 120, Level::emergency},
      {j, "4 green discharge or fluid and 2 h", at_work(Sign::waters), 120, Level::emergency},
      {j, "5 strong straining 30 min", at_work(Sign::strong_straining), 30, Level::call_vet},
      {j, "6 weak straining 4 h", at_work(Sign::weak_straining), 240, Level::emergency},
      {j, "7 more than 4 h since a pup", resting(), 240, Level::emergency},
      {j, "8 illness: collapse", at_work(Sign::collapse), 0, Level::emergency},
      {j, "8 illness: vomiting again", Story{at_work(Sign::vomiting)}.sign(Sign::vomiting, kNight + minutes(30)), 31,
       Level::call_vet},
      {f, "20 min hard labour", at_work(Sign::strong_straining), 20, Level::act},
      {f, "first stage 8 h", at_work(Sign::panting), 480, Level::watch},
      {f, "24 h after the drop", Story{}.mated(kNight - days(62)).temperature("dam", 37.2, kNight), 1440,
       Level::call_vet},
      {f, "dark green discharge 15 min", at_work(Sign::green_discharge), 15, Level::call_vet},
      {f, "4 h between pups, no straining", resting(), 240, Level::emergency},
      {m, "efforts between pups over 1 h", between(Sign::weak_straining), 60, Level::call_vet},
      {m, "efforts between pups over 2 h", between(Sign::weak_straining), 120, Level::emergency},
      {"Coates 2013", "over 2 h between pups", resting(), 120, Level::call_vet},
      {"Hook Norton practice sheet", "labour over 24 h", at_work(Sign::weak_straining), 1440, Level::emergency},
      {"Practice sheet", "foul discharge at any time", at_work(Sign::foul_discharge), 0, Level::emergency},
      {"Practice sheet", "bright red, more than a few drips", at_work(Sign::bleeding), 0, Level::call_vet},
  };
}

TEST(Published, EachCriterionIsToldAtItsPrintedLimit) {
  for (const auto& row : rows())
    EXPECT_LE(worst_of(row.story, kNight + minutes(row.min)), row.level)
        << row.criterion << " [" << row.source << "] at " << row.min << " min";
}

// The clocks run on instants: an hour that comes twice, or not at all, in the middle of a criterion moves no limit.
TEST(Published, TheChangeOfTheClocksMovesNoLimit) {
  for (const auto& row : rows())
    for (const int change : {60, -60}) {
      const Instant when = kNight + minutes(row.min / 2);
      const Zone zone{
          "Europe/Berlin", Minutes{60 + std::max(0, -change)}, {{when, Minutes{60 + std::max(0, change)}, "X"}}};
      const auto litter = record::fold(row.story.entries(), "juniper-2026", zone);
      for (const Span off : {Span{-1}, Span{0}, Span{1}}) {
        const Instant at = kNight + minutes(row.min) + off;
        Level local = Level::note;
        for (const auto& f : advice::assess(litter, reference::built_in(), at).findings)
          if (f.about == "dam") local = std::min(local, f.level);
        EXPECT_EQ(local, worst_of(row.story, at)) << row.criterion << ", clocks " << change;
      }
    }
}

// 345 Boxers (Bostedt et al. 2023): 83.8 % of the births without dystocia had a pause of more than 60 min.
TEST(Published, AnHoursRestIsNoCall) {
  EXPECT_EQ(worst_of(resting(), kNight + minutes(61)), Level::watch);
  EXPECT_EQ(worst_of(at_work(Sign::strong_straining), kNight + minutes(19)), Level::note);
}

// Why it matters is told with the figure and whose it is; not below a call, where it would only frighten.
TEST(Published, ACallTellsWhatWaitingCosts) {
  const auto s = Story{}.sign(Sign::strong_straining, kNight);
  const auto why = [&](double m) { return find(s.assess(kNight + minutes(m)), "STRONG_STRAINING")->why; };
  EXPECT_NE(why(30).find("5.8 % of the pups died where help came 1 to 4.5 hours"), std::string::npos) << why(30);
  EXPECT_NE(why(30).find("(Walett Darvelid and Linde-Forsberg 1994"), std::string::npos) << why(30);
  EXPECT_EQ(why(20).find("1994"), std::string::npos) << why(20);
  for (const auto& d : reference::built_in().delay_figures)
    EXPECT_EQ(d.source.standing, reference::Standing::published) << d.code;
}

TEST(Published, TheTableOfLimitsIsInOrderAndOursNeverLaterThanTheHighest) {
  const auto& r = reference::built_in();
  std::set<std::string_view> codes;
  for (const auto& limit : r.published_limits) codes.insert(limit.code);
  EXPECT_GE(codes.size(), 9U);
  for (const auto code : codes) {
    std::optional<Minutes> lowest, commonest, highest;
    for (const auto& limit : r.published_limits) {
      if (limit.code != code) continue;
      auto& into = limit.rank == "lowest" ? lowest : limit.rank == "commonest" ? commonest : highest;
      EXPECT_TRUE(limit.rank == "lowest" || limit.rank == "commonest" || limit.rank == "highest") << limit.rank;
      EXPECT_FALSE(into) << code << " has two rows for " << limit.rank;
      into = limit.limit_min;
    }
    ASSERT_TRUE(lowest && commonest && highest) << code;
    EXPECT_LE(*lowest, *commonest) << code;
    EXPECT_LE(*commonest, *highest) << code;
    std::optional<Minutes> first, rung;
    for (const auto& rule : r.span_rules) {
      if (rule.code != code) continue;
      if (!first) first = rule.limit;
      if (rule.level <= Level::call_vet && !rung) rung = rule.limit;
    }
    ASSERT_TRUE(first && rung) << code << " has no rule that rings";
    EXPECT_LE(*first, std::max(*lowest, Minutes{0})) << code << ": something is told by the lowest limit in print";
    EXPECT_LE(*rung, *highest) << code << ": rung by the highest limit in print";
  }
}

}  // namespace
}  // namespace lampside::testing
