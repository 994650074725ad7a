// The folder and the sheet, read back by a PDF reader.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <set>

#include "../draw/poppler.hpp"
#include "draw/pdf/pdf.hpp"
#include "fixture.hpp"
#include "homes/pup_facts.hpp"
#include "paper/forms.hpp"
#include "picture/picture.hpp"

namespace lampside::paper {
namespace {

using draw::test::run_on;
using ::testing::HasSubstr;
using ::testing::Not;

const Instant kEightWeeks = test::at("2026-04-28T09:10:00Z");

std::string without_spaces(const std::string& text) {
  std::string out;
  for (const char c : text)
    if (c != ' ' && c != '\n' && c != '\f') out += c;
  return out;
}
std::string read_back(const std::string& pdf) { return without_spaces(run_on(pdf, "pdftotext - -")); }

std::string any_picture(const std::string&) {
  draw::PngCanvas canvas{{600, 400}, 1};
  canvas.circle({300, 200}, 150, draw::Colour{200, 120, 40}, std::nullopt);
  return picture::clean(canvas.finish()).value();
}

test::Story whole_story() {
  auto story = test::story({.pups = 4, .days = 57});
  story.add(kEightWeeks - std::chrono::hours(30), "1", record::Microchip{"826098000000004", {}});
  record::Dose dose{};
  dose.product = "puppy wormer";
  dose.lot = "L4471";
  story.add(kEightWeeks - std::chrono::hours(300), "1", dose);
  story.add(kEightWeeks - std::chrono::hours(600), "1", record::Done{"social_5"});
  story.add(kEightWeeks - std::chrono::hours(300), "1", record::Done{"vaccine"}, "puppy vaccine, VX-3307");
  story.add(kEightWeeks - std::chrono::hours(90), "", record::Contract{"The pup comes back to us if it cannot stay."});
  story.add(kEightWeeks - std::chrono::hours(2), "1", record::Departure{"the Ashdown family"});
  for (int week = 0; week < 12; ++week)
    story.add(test::kFirstPup + std::chrono::hours(24 * 4 * week + 200), "1",
              record::Photo{"x.jpg", std::string(64, static_cast<char>('0' + week % 10))});
  return story;
}

Given given_of(const std::string& pup) {
  Given given;
  given.pup = pup;
  given.picture = [](const std::string& sha) -> Result<std::string> { return any_picture(sha); };
  given.contacts = {{"Family", "The Ashdowns, 3 Mill Lane"}, {"Price", "900 GBP"}};
  return given;
}

TEST(Folder, HoldsWhatAFamilyKeeps) {
  SKIP_WITHOUT("pdftotext");
  const auto litter = whole_story().litter(kEightWeeks);
  const auto pdf = make_form("folder", Sheet::a4, litter, test::assess(litter, kEightWeeks), given_of("1")).value();
  EXPECT_LT(pdf.size(), 5U << 20U);
  const auto text = read_back(pdf);
  for (const std::string what :
       {"Record of birth", "Weight, g", "826098000000004", "puppy wormer", "L4471", "VX-3307", "What is due",
        "kcal a day", "What it has met so far", "two new people", "Care in the weeks to come", "It is not legal advice",
        "The pup comes back to us if it cannot stay.", "Receipt", "900 GBP", "The Ashdowns, 3 Mill Lane",
        "Whom to ring", "Wormed within 14 days", "Week by week"})
    EXPECT_THAT(text, HasSubstr(without_spaces(what))) << what;
  EXPECT_THAT(text, Not(HasSubstr("Ashdownfamily")));  // the journal's own word for the buyer is not printed
  EXPECT_THAT(run_on(pdf, "pdfimages -list -"), HasSubstr("jpeg"));
}

TEST(Folder, HasEveryFieldThatALawOrClubOfTheTablesAsksFor) {
  SKIP_WITHOUT("pdftotext");
  std::set<std::string_view> regimes;
  for (const auto& row : reference::built_in().record_fields) {
    auto story = whole_story();
    record::LitterFacts facts{};
    facts.place = row.place.empty() ? "US-NY" : std::string(row.place);
    story.add(kEightWeeks - std::chrono::hours(1), "", facts);
    if (!regimes.insert(row.regime).second) continue;
    const auto litter = story.litter(kEightWeeks);
    const auto text =
        read_back(make_form("folder", Sheet::a4, litter, test::assess(litter, kEightWeeks), given_of("1")).value());
    for (const auto& asked : reference::built_in().record_fields) {
      if (asked.regime != row.regime) continue;
      // A field stands under the words of the first law that asks for it.
      bool found = false;
      for (const auto& same : reference::built_in().record_fields)
        found = found || ((asked.field == "by_hand" ? &same == &asked : same.field == asked.field) &&
                          text.find(without_spaces(std::string(same.asks))) != std::string::npos);
      EXPECT_TRUE(found) << row.regime << ": " << asked.asks;
    }
  }
  EXPECT_GE(regimes.size(), 4U);
}

// What was not done in its days is no "next": it has no date to promise, and is not left out either.
TEST(Folder, WhatIsPastIsNotTheNextThingToDo) {
  SKIP_WITHOUT("pdftotext");
  // Pup 2, for which nothing is ticked, on the first day on which something of its health is overdue.
  for (int day = 1; day < 70; ++day) {
    const Instant now = test::kFirstPup + std::chrono::hours(24 * day + 12);
    const auto litter = whole_story().litter(now);
    const auto assessment = test::assess(litter, now);
    const auto& pup = *litter.pup("2");
    const auto past = homes::health_past(assessment.care, pup);
    if (past.empty()) continue;
    for (const auto* item : homes::health_ahead(assessment.care, pup))
      EXPECT_GE(item->closes, assessment.care.today) << item->what;
    const auto text = read_back(make_form("folder", Sheet::a4, litter, assessment, given_of("2")).value());
    const auto next = text.find("Whatisdue"), over = text.find("Itsdaysarepast");
    ASSERT_LT(next, over);
    ASSERT_NE(over, std::string::npos);
    for (const auto* item : past)
      EXPECT_NE(text.find(without_spaces(item->what), over), std::string::npos) << item->what;
    return;
  }
  FAIL() << "nothing was ever overdue in this story: it proves nothing";
}

// Nothing but the growth sheet and the contract begins a page of its own: no page between them lies half empty.
TEST(Folder, RunsOnWithoutEmptyPages) {
  SKIP_WITHOUT("pdftotext");
  const auto litter = whole_story().litter(kEightWeeks);
  const auto pdf = make_form("folder", Sheet::a4, litter, test::assess(litter, kEightWeeks), given_of("1")).value();
  const auto info = run_on(pdf, "pdfinfo -");
  const int pages = std::stoi(info.substr(info.find("Pages:") + 6));
  EXPECT_LE(pages, 7);
  int thin = 0;
  for (int n = 1; n <= pages; ++n)
    thin += run_on(pdf, "pdftotext -f " + std::to_string(n) + " -l " + std::to_string(n) + " -layout - -").size() < 500;
  EXPECT_LE(thin, 1) << "of " << pages << " pages";
}

TEST(Folder, OfAPupThatIsNotThereIsRefused) {
  const auto litter = whole_story().litter(kEightWeeks);
  const auto answer = make_form("folder", Sheet::a4, litter, test::assess(litter, kEightWeeks), given_of("nobody"));
  ASSERT_FALSE(answer);
  EXPECT_EQ(answer.error().code, "PUP_UNKNOWN");
}

TEST(PupSheet, IsOnePageOfFactsAndNamesNobody) {
  SKIP_WITHOUT("pdftotext");
  const auto litter = whole_story().litter(kEightWeeks);
  const auto assessment = test::assess(litter, kEightWeeks);
  const auto pdf = make_form("pup-sheet", Sheet::a4, litter, assessment, given_of("1")).value();
  const auto text = read_back(pdf);
  EXPECT_THAT(run_on(pdf, "pdfinfo -"), HasSubstr("Pages:           1\n"));
  for (const auto* what : {"GoldenRetriever", "Mayleavefrom", "Healthsofar"}) EXPECT_THAT(text, HasSubstr(what));
  for (const auto* never : {"Ashdown", "MillLane", "826098000000004", "0555", "900GBP"})
    EXPECT_THAT(text, Not(HasSubstr(never)));
  const auto png = pup_sheet_png(litter, assessment, given_of("1")).value();
  EXPECT_TRUE(png.starts_with("\x89PNG"));
  EXPECT_GT(png.size(), 20'000U);
}

}  // namespace
}  // namespace lampside::paper
