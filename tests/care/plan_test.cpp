// What is done, put off, moved, dropped; and what the plan says of it.
#include <gtest/gtest.h>

#include <set>

#include "care/law.hpp"
#include "story.hpp"

namespace lampside::care::testing {
namespace {

TEST(Ticking, TenWormedWithTwoExceptions) {
  Story story;
  story.born("2026-01-01", 10);
  for (int n = 1; n <= 10; ++n)
    if (n != 3 && n != 7) story.done("2026-01-15", "worm", std::to_string(n));
  const auto plan = story.plan("2026-01-15");
  EXPECT_EQ(item(plan, "worm", "1")->state, State::done);
  EXPECT_EQ(item(plan, "worm", "3")->state, State::open);
  const auto left = grouped(plan, [](const Item& i) { return i.task == "worm" && i.due(); });
  ASSERT_EQ(left.size(), 1U);
  EXPECT_EQ(say_group(story.litter(), left.front()), "Worm the pups, each by today's weight: pups 3, 7");
}

TEST(Ticking, ForTheWholeLitterCountsForEachPup) {
  const auto plan = Story{}.born("2026-01-01", 3).done("2026-01-15", "worm", "").plan("2026-01-16");
  for (const auto* pup : {"1", "2", "3"}) EXPECT_EQ(item(plan, "worm", pup)->state, State::done);
}

TEST(Ticking, StrikingATickOutBringsTheTaskBack) {
  Story story;
  story.born("2026-01-01", 1).done("2026-01-15", "worm", "1");
  const auto tick = story.entries.back().id;
  EXPECT_EQ(item(story.plan("2026-01-16"), "worm")->done_by, tick);
  story.on("2026-01-16", "", record::Strike{tick});
  EXPECT_EQ(item(story.plan("2026-01-16"), "worm")->state, State::open);
}

TEST(Ticking, DoneStaysDoneWhenTheKeeperChoosesAnotherSchedule) {
  Story story;
  story.born("2026-01-01", 1).done("2026-01-15", "worm", "1").choose("worming", "worm_us_label");
  EXPECT_EQ(item(story.plan("2026-01-16"), "worm")->state, State::done);
}

TEST(Ticking, ARoundGivenLatePushesTheNext) {
  Story story;
  story.born("2026-01-01", 1).done("2026-01-27", "worm", "1");  // day 26 instead of 14
  // Seven days between two doses at least: not before day 33, though round 2 is best on day 28.
  EXPECT_EQ(say(story.plan("2026-01-27"), "worm.2"), "waiting 2026-02-03 (2026-02-03 to 2026-02-06)");
}

TEST(Ticking, AMissedRoundIsPassedOverNotDoubled) {
  const auto plan = Story{}.born("2026-01-01", 1).plan("2026-01-28");  // day 27: round 2 is open, round 1 never done
  EXPECT_EQ(item(plan, "worm")->state, State::missed);
  EXPECT_EQ(item(plan, "worm.2")->state, State::open);
  const auto early = Story{}.born("2026-01-01", 1).plan("2026-01-20");
  EXPECT_EQ(item(early, "worm")->state, State::overdue);
}

TEST(Ticking, ADoseOfAWormerTicksItsRoundAndNoOther) {
  record::Product label;
  label.name = "worm suspension";
  record::Dose dose;
  dose.product = label.name;
  Story story;
  story.born("2026-01-01", 2).on("2026-01-14", "", label).on("2026-01-15", "1", dose).on("2026-01-16", "1", dose);
  const auto plan = story.plan("2026-01-17");
  EXPECT_EQ(item(plan, "worm", "1")->state, State::done);
  EXPECT_EQ(to_iso(*item(plan, "worm", "1")->done), "2026-01-15");  // the second day belongs to the same course
  EXPECT_EQ(item(plan, "worm.2", "1")->state, State::waiting);
  EXPECT_EQ(item(plan, "worm", "2")->state, State::open);
  // Nothing is taken for a wormer on its name alone.
  dose.product = "calcium";
  EXPECT_EQ(item(story.on("2026-01-15", "2", dose).plan("2026-01-17"), "worm", "2")->state, State::open);
}

TEST(Ticking, ADoseThatIsNoRoundsOwnKeepsTheNextWaiting) {
  record::Product label;
  label.name = "worm suspension";
  record::Dose dose;
  dose.product = label.name;
  Story story;
  story.born("2026-01-01", 1)
      .on("2026-01-10", "", label)
      .on("2026-01-12", "1", dose);  // day 11; round 1 opens on day 13
  const auto plan = story.plan("2026-01-15");
  EXPECT_EQ(item(plan, "worm", "1")->state, State::waiting) << "seven days between two doses at least";
  EXPECT_EQ(to_iso(item(plan, "worm", "1")->opens), "2026-01-19");
  EXPECT_TRUE(item(story.plan("2026-01-19"), "worm", "1")->due());
}

TEST(Ticking, TheChipsOwnEntryTicksIt) {
  const auto plan =
      Story{}.born("2026-01-01", 1).on("2026-02-19", "1", record::Microchip{"985141000123456", {}}).plan("2026-02-20");
  EXPECT_EQ(item(plan, "chip")->state, State::done);
}

TEST(TooEarly, AVaccineBeforeItsMinimumAgeIsAFault) {
  Story story;
  story.born("2026-01-01", 2).done("2026-02-05", "vaccine", "1").done("2026-02-12", "vaccine", "2");
  const auto all = story.findings("2026-02-12");
  const auto* f = find(all, "CARE_TOO_EARLY");
  ASSERT_TRUE(f);
  EXPECT_EQ(f->about, "litter");  // a date that is wrong makes no pup unwell
  EXPECT_NE(f->because.find("pup 1: done on day 35, and it counts from day 42 on"), std::string::npos) << f->because;
  EXPECT_FALSE(item(story.plan("2026-02-12"), "vaccine", "2")->too_early);  // day 42: right
}

TEST(TooEarly, TwoDosesCloserThanTheGap) {
  Story story;
  story.born("2026-01-01", 1).done("2026-02-12", "vaccine", "1").done("2026-02-20", "vaccine.2", "1");
  ASSERT_TRUE(item(story.plan("2026-02-20"), "vaccine.2")->too_early);
  EXPECT_EQ(*item(story.plan("2026-02-20"), "vaccine.2")->too_early,
            "8 days after the one before, and the gap is 14 days at least");
}

TEST(Editing, LaterDropMoveAndOwn) {
  Story story;
  story.born("2026-01-01", 2)
      .on("2026-01-15", "1", record::Later{"worm", day("2026-01-17"), "loose stool, vet asked"})
      .on("2026-01-15", "2", record::CareEdit{"worm", {}, true, "vet gave another product"})
      .on("2026-01-15", "", record::CareEdit{"nails.3", 1, {}, "away"})
      .on("2026-01-15", "dam", record::CareOwn{"Check the stitch", day("2026-01-20"), {}});
  const auto plan = story.plan("2026-01-16");
  EXPECT_EQ(item(plan, "worm", "1")->state, State::later);
  EXPECT_EQ(item(plan, "worm", "1")->why, "loose stool, vet asked");
  EXPECT_EQ(item(story.plan("2026-01-17"), "worm", "1")->state, State::open);
  EXPECT_EQ(item(plan, "worm", "2")->state, State::dropped);
  EXPECT_EQ(to_iso(item(plan, "nails.3", "1")->best), "2026-01-23");
  EXPECT_EQ(to_iso(item(plan, "nails.3", "2")->best), "2026-01-23");
  const auto own = std::find_if(plan.items.begin(), plan.items.end(), [](const Item& i) { return !i.row; });
  ASSERT_NE(own, plan.items.end());
  EXPECT_EQ(own->what, "Check the stitch");
  EXPECT_EQ(own->about, "dam");
}

TEST(Editing, OwnTasksForTheKeeperTheBoxAndEachPup) {
  Story story;
  const auto own = [](const char* what, bool each = false) {
    record::CareOwn c{what, day("2026-01-20"), day("2026-01-22")};
    if (each) c.each_pup = true;
    return c;
  };
  story.on("2025-12-20", "", own("call the insurer")).on("2025-12-20", "box", own("oil the door"));
  story.on("2025-12-20", "", own("photograph", true));
  const auto named = [](const Plan& plan, std::string_view what) {
    std::vector<const Item*> out;
    for (const auto& i : plan.items)
      if (i.what == what) out.push_back(&i);
    return out;
  };
  // Before the birth there is nobody to name.
  ASSERT_EQ(named(story.plan("2025-12-21", story.noon("2026-01-01")), "photograph").size(), 1U);
  story.born("2026-01-01", 3).on("2026-01-10", "2", record::Death{});
  const auto plan = story.plan("2026-01-20");
  ASSERT_EQ(named(plan, "photograph").size(), 2U) << "not the one that died";
  EXPECT_EQ(named(plan, "photograph").front()->about, "1");
  EXPECT_EQ(named(plan, "oil the door").front()->about, "box");
  EXPECT_EQ(named(plan, "call the insurer").front()->about, "");
  // Ticked for one, the other still asks; and the whole is one group.
  const auto task = named(plan, "photograph").front()->task;
  const auto after = story.done("2026-01-20", task, "1").plan("2026-01-21");
  EXPECT_EQ(item(after, task, "1")->state, State::done);
  EXPECT_EQ(item(after, task, "3")->state, State::open);
  for (const auto& group : grouped(plan, [](const Item& i) { return i.due(); })) {
    const auto said = say_group(story.litter(), group);
    if (group.first().what == "photograph") {
      EXPECT_EQ(said, "photograph: all 2 pups");
    }
    if (group.first().what == "oil the door") {
      EXPECT_EQ(said, "oil the door: the box");
    }
  }
  // Nobody is left in the box: it asks for nothing.
  story.on("2026-01-21", "1", record::Departure{}).on("2026-01-21", "3", record::Departure{});
  EXPECT_EQ(named(story.plan("2026-01-22"), "oil the door").front()->state, State::missed);
}

TEST(Editing, AMoveNeverGoesBelowTheMinimumAge) {
  Story story;
  story.born("2026-01-01", 1).on("2026-01-02", "1", record::CareEdit{"vaccine", -10, {}, "trip"});
  EXPECT_EQ(to_iso(item(story.plan("2026-01-02"), "vaccine")->opens), "2026-02-12");  // day 42
}

TEST(Leaving, WhatIsLeftIsForTheFamily) {
  Story story;
  story.born("2026-01-01", 2).on("2026-02-27", "1", record::Departure{"the Marlows"});
  const auto plan = story.plan("2026-03-01");
  EXPECT_EQ(item(plan, "worm.5", "1")->state, State::family);
  EXPECT_EQ(item(plan, "worm.5", "2")->state, State::waiting);
  EXPECT_FALSE(find(story.findings("2026-03-01"), "LEFT_TOO_YOUNG"));
  EXPECT_TRUE(find(Story{}.born("2026-01-01", 1).on("2026-02-25", "1", record::Departure{}).findings("2026-02-25"),
                   "LEFT_TOO_YOUNG"));  // day 55
}

TEST(Wounds, LookedAtDailyAndSpokenOf) {
  Story story;
  story.born("2026-01-01", 2).on("2026-01-04", "1", record::Procedure{"dewclaws", "Dr Vale"});
  EXPECT_EQ(item(story.plan("2026-01-05"), "wound." + story.entries.back().id + ".1")->state, State::last_day);
  record::Wound wound;
  wound.heat = true;
  story.on("2026-01-05", "1", wound);
  const auto all = story.findings("2026-01-05");
  ASSERT_TRUE(find(all, "WOUND_INFLAMED"));
  EXPECT_EQ(find(all, "WOUND_INFLAMED")->level, reference::Level::call_vet);
  EXPECT_FALSE(find(all, "CARE_LAST_DAY"));  // looked at today
  story.on("2026-01-06", "1", record::Wound{});
  EXPECT_FALSE(find(story.findings("2026-01-06"), "WOUND_INFLAMED"));
  EXPECT_TRUE(find(story.findings("2026-01-07"), "CARE_LAST_DAY"));
}

TEST(Reminders, FewAndGrouped) {
  Story story;
  story.born("2026-01-01", 12);
  for (const auto* today : {"2026-01-10", "2026-01-20", "2026-02-10", "2026-03-10", "2026-04-10"}) {
    const auto all = story.findings(today);
    EXPECT_LE(all.size(), 4U) << today;
    EXPECT_FALSE(all.empty()) << today;
    std::set<std::string> codes;
    for (const auto& f : all) EXPECT_TRUE(codes.insert(f.code).second) << f.code << " twice on " << today;
  }
  const auto all = story.findings("2026-01-20");
  ASSERT_TRUE(find(all, "CARE_OVERDUE"));
  EXPECT_NE(find(all, "CARE_OVERDUE")->because.find("Worm the pups, each by today's weight: all 12 pups (last day was"),
            std::string::npos)
      << find(all, "CARE_OVERDUE")->because;
}

// Born on either side of midnight: the days differ, the task is one.
TEST(Reminders, ALitterBornAcrossMidnightIsOneTask) {
  Story story;
  for (int n = 1; n <= 10; ++n)
    story.tell(story.noon("2026-01-01") + Minutes{715 + n}, std::to_string(n), record::Birth{});
  const auto plan = story.plan("2026-01-16");
  EXPECT_NE(item(plan, "worm", "1")->best, item(plan, "worm", "10")->best);
  const auto due = grouped(plan, [](const Item& i) { return i.task == "worm" && i.due(); });
  ASSERT_EQ(due.size(), 1U);
  EXPECT_EQ(due.front().items.size(), 10U);
  EXPECT_EQ(say_group(story.litter(), due.front()), "Worm the pups, each by today's weight: all 10 pups");
  // On the day that is the last for some, all are asked for as on a last day.
  const auto later = story.plan("2026-01-18");  // groups point into their plan
  const auto last = grouped(later, [](const Item& i) { return i.task == "worm" && i.due(); });
  ASSERT_EQ(last.size(), 1U);
  EXPECT_EQ(last.front().first().state, State::last_day);
}

// ---- law and chips --------------------------------------------------------------------------------------------------

bool offered(const char* place, std::string_view set) {
  for (const auto& choice : Story{}.place(place).born("2026-01-01", 1).plan("2026-01-01").choices)
    for (const auto* s : choice.offered)
      if (s->id == set) return true;
  return false;
}

TEST(Docking, AbsentUnlessALawThatWasReadAllowsIt) {
  for (const auto* place :
       {"AU-VIC", "NZ", "DE", "FR", "IE", "SE", "NO", "CH", "ZA", "BR", "US", "US-TX", "GB", "JP", "XX"})
    EXPECT_FALSE(offered(place, "tail_vet")) << place;
  for (const auto* place : {"GB-ENG", "GB-WLS", "GB-SCT", "GB-NIR", "US-PA", "US-MD"})
    EXPECT_TRUE(offered(place, "tail_vet")) << place;
  EXPECT_FALSE(offered("NZ", "dewclaws_vet"));
}

TEST(Docking, OffUntilKeeperAndVetChooseItAndGoneWhenThePlaceForbids) {
  const auto with = [](const char* place, std::optional<std::string> vet) {
    return item(
               Story{}.place(place).born("2026-01-01", 1).choose("tail", "tail_vet", std::move(vet)).plan("2026-01-02"),
               "tail") != nullptr;
  };
  EXPECT_FALSE(item(Story{}.place("GB-ENG").born("2026-01-01", 1).plan("2026-01-02"), "tail"));
  EXPECT_FALSE(with("GB-ENG", {}));
  EXPECT_FALSE(with("GB-ENG", ""));
  EXPECT_TRUE(with("GB-ENG", "Dr Vale"));
  EXPECT_FALSE(with("NZ", "Dr Vale"));
}

// Minimum ages: animallaw.info tables 2006-2020; SI 2018/486 Sch 6 para 1; Code rural L214-8; NSW code 9.1.1.1.
TEST(Law, MinimumAges) {
  const auto age = [](const char* place) {
    const auto limit = law_limit(reference::built_in(), place, "min_age", Stricter::later);
    return limit ? limit->count() : 0;
  };
  EXPECT_EQ(age("GB-ENG"), 56);
  EXPECT_EQ(age("GB-SCT"), 56);
  EXPECT_EQ(age("FR"), 57);
  EXPECT_EQ(age("AU-NSW"), 56);
  for (const auto* state : {"US-AZ", "US-CA", "US-CO", "US-CT", "US-FL", "US-IL", "US-NV", "US-NY", "US-TX"})
    EXPECT_EQ(age(state), 56) << state;
  EXPECT_EQ(age("US-VA"), 49);
  EXPECT_EQ(age("US-WI"), 49);
  EXPECT_EQ(age("US-OR"), 56);  // no row of its own: what the country says of commerce
  EXPECT_EQ(age("JP"), 0);
}

TEST(Law, TransportAndBorders) {
  const auto limit = [](const char* place, const char* topic) {
    return law_limit(reference::built_in(), place, topic, Stricter::later).value_or(Days{0}).count();
  };
  EXPECT_EQ(limit("GB-ENG", "move_dam"), 54);   // SI 2018/486 Sch 6 para 2(10)
  EXPECT_EQ(limit("GB-ENG", "pup_alone"), 56);  // para 2(9)
  EXPECT_EQ(limit("DE", "entry"), 105);         // Regulation (EU) 576/2013: 12 weeks + 21 days, from memory
  EXPECT_EQ(limit("US", "entry"), 183);         // CDC, 1 August 2024: six months
}

TEST(Law, RowsNeverReadCarryNoDayAndSayFromMemory) {
  for (const auto& law : reference::built_in().laws) {
    EXPECT_EQ(law.checked.empty(), law.source.standing == reference::Standing::from_memory)
        << law.places << " " << law.topic;
    EXPECT_TRUE(law.checked.empty() || parse_day(law.checked)) << law.checked;
  }
}

// ISO 11784 as explained by ICAR (64 bits, 38 of them the animal's) and WSAVA; 999 from memory.
TEST(Chip, Structure) {
  EXPECT_EQ(chip_shape("040096100000001"), ChipShape::country);
  EXPECT_EQ(chip_shape("985141000123456"), ChipShape::maker);
  EXPECT_EQ(chip_shape("276274877906943"), ChipShape::country);  // 2^38 - 1
  EXPECT_EQ(chip_shape("276274877906944"), ChipShape::out_of_range);
  EXPECT_EQ(chip_shape("276999999999999"), ChipShape::out_of_range);
  EXPECT_EQ(chip_shape("98514100012345"), ChipShape::wrong_length);
  EXPECT_EQ(chip_shape("999000000000001"), ChipShape::test);
  EXPECT_EQ(chip_shape("900000000000001"), ChipShape::maker);
  EXPECT_EQ(chip_shape("998000000000001"), ChipShape::maker);
  EXPECT_EQ(chip_shape("899000000000001"), ChipShape::country);
  EXPECT_EQ(chip_shape("000000000000001"), ChipShape::no_such_prefix);
  EXPECT_EQ(chip_shape("4A1B2C3D4E"), ChipShape::not_digits);
  EXPECT_EQ(chip_shape(""), ChipShape::not_digits);
  EXPECT_EQ(chip_shape("985 141000123456"), ChipShape::not_digits);
}

TEST(Chip, TwoPupsWithOneNumber) {
  Story story;
  story.born("2026-01-01", 2)
      .on("2026-02-19", "1", record::Microchip{"985141000123456", {}})
      .on("2026-02-19", "2", record::Microchip{"985141000123456", {}});
  EXPECT_TRUE(find(story.findings("2026-02-19"), "CHIP_WRONG"));
  story.on("2026-02-20", "2", record::Microchip{"985141000123457", {}});  // read again: the last one counts
  EXPECT_FALSE(find(story.findings("2026-02-20"), "CHIP_WRONG"));
}

// ---- the tables themselves ------------------------------------------------------------------------------------------

TEST(Tables, EveryRowCanBePlaced) {
  const auto& r = reference::built_in();
  std::set<std::string_view> ids, sets, topics, chosen;
  for (const auto& task : r.care_tasks) ids.insert(task.id);
  for (const auto& set : r.care_sets) {
    EXPECT_TRUE(sets.insert(set.id).second) << set.id << " twice";
    topics.insert(set.topic);
    if (!set.chosen) continue;
    EXPECT_TRUE(chosen.insert(set.topic).second) << set.topic << " has two defaults";
    EXPECT_TRUE(set.law.empty()) << set.id << " needs a law and cannot be a default";
  }
  EXPECT_EQ(topics, chosen) << "a topic without a default";
  const std::set<std::string_view> anchors{"due", "mating", "whelping", "birth", "handover", "procedure"};
  const std::set<std::string_view> laws{"min_age",   "chip_by",     "docking",    "dewclaws", "move_dam",
                                        "pup_alone", "tell_litter", "commitment", "rabies",   "entry"};
  EXPECT_GT(ids.size(), 40U);
  for (const auto& task : r.care_tasks) {
    EXPECT_TRUE(task.set.empty() || sets.count(task.set)) << task.id << ": " << task.set;
    EXPECT_TRUE(anchors.count(task.anchor) || ids.count(task.anchor)) << task.id << ": " << task.anchor;
    EXPECT_TRUE(task.until.empty() || anchors.count(task.until) || ids.count(task.until)) << task.id;
    EXPECT_TRUE(task.kind == "task" || task.kind == "period" || task.kind == "mark") << task.id;
    EXPECT_TRUE(task.who == "pups" || task.who == "dam" || task.who == "box" || task.who == "keeper") << task.id;
    EXPECT_TRUE(task.law.empty() == task.law_use.empty()) << task.id;
    EXPECT_TRUE(task.law.empty() || laws.count(task.law)) << task.id;
    EXPECT_EQ(task.on_d.find_first_not_of("0123456789 -"), std::string_view::npos) << task.id << ": " << task.on_d;
  }
  for (const auto& law : r.laws) EXPECT_TRUE(laws.count(law.topic)) << law.topic;
}

}  // namespace
}  // namespace lampside::care::testing
