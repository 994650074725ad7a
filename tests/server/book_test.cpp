// What the server keeps at hand must never be older than the journal.
#include "server/book.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "house.hpp"

namespace lampside::server {
namespace {

using ::testing::ElementsAre;

record::Entry entry(int n, const std::string& when, std::string about, record::Body body,
                    std::string litter = "juniper-2026") {
  const auto stamp = parse_stamp(when).value();
  return record::make_entry(test::id(n), std::move(litter), stamp, stamp, "test", std::move(about), std::move(body));
}
record::Entry weight(int n, const std::string& when, double grams) {
  return entry(n, when, "1", record::Weight{Grams{grams}, {}, {}});
}

class BookTest : public ::testing::Test {
 protected:
  void SetUp() override {
    append({entry(1, "2026-03-01T02:00:00Z", "1", record::Birth{}), weight(2, "2026-03-01T08:00:00Z", 400),
            weight(3, "2026-03-02T08:00:00Z", 425), weight(4, "2026-03-03T08:00:00Z", 455)});
  }
  void append(const std::vector<record::Entry>& entries) { ASSERT_TRUE(journal_.append(entries)); }
  /// The last round that the pup's pace goes by, as the book says at that moment.
  static Instant pace_of(Book& book, const std::string& now) {
    EXPECT_TRUE(book.refresh(test::at(now)));
    const auto assessment = book.assess("juniper-2026", reference::built_in());
    const auto* pace = assessment.pups.empty() ? nullptr : reference::value_of(assessment.pups.front().pace);
    return pace ? pace->as_of : Instant::min();
  }
  test::MemoryJournal journal_;
};

TEST_F(BookTest, WhatIsKeptOfTheWeightsGoesWithTheEntryThatEndsIt) {
  Book book{journal_, test::zone_of, Future::all};
  EXPECT_EQ(pace_of(book, "2026-03-03T09:00:00Z"), test::at("2026-03-03T08:00:00Z"));
  EXPECT_EQ(pace_of(book, "2026-03-04T08:30:00Z"), test::at("2026-03-03T08:00:00Z"));
  append({weight(5, "2026-03-04T08:00:00Z", 480)});
  EXPECT_EQ(pace_of(book, "2026-03-04T08:30:00Z"), test::at("2026-03-04T08:00:00Z"));
  append({entry(6, "2026-03-04T08:31:00Z", "", record::Strike{test::id(5)})});
  EXPECT_EQ(pace_of(book, "2026-03-04T08:32:00Z"), test::at("2026-03-03T08:00:00Z"));
}

TEST_F(BookTest, TimeGoingOnBringsWhatWasNotKnownYet) {
  Book book{journal_, test::zone_of, Future::known};
  EXPECT_EQ(pace_of(book, "2026-03-02T09:00:00Z"), test::at("2026-03-02T08:00:00Z"));
  EXPECT_EQ(pace_of(book, "2026-03-03T07:59:59Z"), test::at("2026-03-02T08:00:00Z"));
  EXPECT_EQ(pace_of(book, "2026-03-03T08:00:00Z"), test::at("2026-03-03T08:00:00Z"));
  EXPECT_EQ(pace_of(book, "2026-03-02T09:00:00Z"), test::at("2026-03-02T08:00:00Z")) << "a clock set back";
}

// An entry of the future is set aside; when its moment has come it counts without anything new being written.
TEST_F(BookTest, AReadingDatedAheadCountsFromItsMomentOn) {
  append({weight(5, "2026-03-04T08:00:00Z", 480)});
  Book book{journal_, test::zone_of, Future::all};
  EXPECT_EQ(pace_of(book, "2026-03-03T09:00:00Z"), test::at("2026-03-03T08:00:00Z"));
  EXPECT_EQ(pace_of(book, "2026-03-04T08:00:00Z"), test::at("2026-03-04T08:00:00Z"));
}

// Seen as a page shows it: it leaves on Saturday, and is weighed until then.
TEST(Pages, ADepartureDatedAheadDoesNotTakeThePupOutOfTodaysRound) {
  test::House house;
  house.with_pups();
  const auto leaves = entry(7, "2026-05-02T10:00:00+02:00", "1", record::Departure{});  // from a file: forms refuse it
  ASSERT_TRUE(house.journal.append(std::vector{leaves}));
  const auto page = house.get("/l/juniper-2026/weigh-in?turn=1");
  EXPECT_TRUE(test::holds(page, "0 of 2")) << page.body.size();
  EXPECT_TRUE(test::holds(house.get("/l/juniper-2026/log"), "2 May")) << "the log shows all";
  house.turn_clock("2026-05-02T10:00:00+02:00");
  EXPECT_TRUE(test::holds(house.get("/l/juniper-2026/weigh-in"), "0 of 1"));
}
TEST(Forms, ADamsWeightWithoutItsUnitIsAskedForAgain) {
  test::House house;
  house.with_pups();
  const auto a = house.record({{"kind", "weight"}, {"about", "dam"}, {"reading", "31.5"}, {"back", "nest"}});
  EXPECT_EQ(a.status, 422);
  EXPECT_TRUE(test::holds(a, "31.5 kg, or 69 lb 7 oz"));
}

TEST_F(BookTest, LittersAreSortedAndAnEntryStaysWhereItIs) {
  Book book{journal_, test::zone_of, Future::all};
  ASSERT_TRUE(book.refresh(test::at("2026-03-03T09:00:00Z")));
  const auto* first = book.find(test::id(1));
  std::vector<record::Entry> more;
  for (int n = 10; n < 200; ++n)
    more.push_back(entry(n, "2026-03-03T08:30:00Z", "", record::Note{}, n % 2 == 0 ? "bramble-2025" : "sorrel-2026"));
  append(more);
  ASSERT_TRUE(book.refresh(test::at("2026-03-03T09:00:00Z")));
  EXPECT_THAT(book.litters(), ElementsAre("bramble-2025", "juniper-2026", "sorrel-2026"));
  EXPECT_EQ(book.find(test::id(1)), first);
  EXPECT_EQ(book.find(test::id(199))->litter, "sorrel-2026");
  EXPECT_EQ(book.find(test::id(999)), nullptr);
  book.forget();
  EXPECT_TRUE(book.litters().empty());
  ASSERT_TRUE(book.refresh(test::at("2026-03-03T09:00:00Z")));
  EXPECT_THAT(book.litters(), ElementsAre("bramble-2025", "juniper-2026", "sorrel-2026"));
}

}  // namespace
}  // namespace lampside::server
