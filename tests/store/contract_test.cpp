// What every engine must do, written once. A new engine joins by adding an opener at the end of this file.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <functional>
#include <limits>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "support.hpp"

namespace lampside::store::test {
namespace {

/// A place where one journal lies, and a way to open it.
class Place {
 public:
  virtual ~Place() = default;
  virtual std::unique_ptr<Journal> open() = 0;
  /// A new place that holds what a copy holds.
  virtual std::unique_ptr<Place> restored_from(const std::string& copy) = 0;
};

struct Opener {
  std::string name;
  std::function<std::unique_ptr<Place>()> make;
};

void PrintTo(const Opener& opener, std::ostream* out) { *out << opener.name; }

class Contract : public testing::TestWithParam<Opener> {
 protected:
  std::unique_ptr<Place> place_ = GetParam().make();
  std::unique_ptr<Journal> journal_ = place_->open();
  TempFolder elsewhere_;

  [[nodiscard]] std::vector<record::Entry> all() const { return journal_->read().value(); }
};

#define EXPECT_PROBLEM(result, wanted)                                          \
  do {                                                                          \
    const auto& outcome = (result);                                             \
    ASSERT_FALSE(outcome.has_value());                                          \
    EXPECT_EQ(outcome.error().code, wanted) << to_text(outcome.error());        \
    EXPECT_FALSE(outcome.error().what.empty() || outcome.error().todo.empty()); \
  } while (false)

TEST_P(Contract, IsEmptyAtFirst) {
  EXPECT_EQ(journal_->count().value(), 0u);
  EXPECT_TRUE(all().empty());
  EXPECT_TRUE(journal_->read(7).value().empty());
}

TEST_P(Contract, KeepsEntriesInOrderOfArrivalNotOfTime) {
  const std::vector later{weight(9)}, earlier{weight(3), weight(1)};
  EXPECT_EQ(journal_->append(later).value().appended, 1u);
  EXPECT_EQ(journal_->append(earlier).value().appended, 2u);
  EXPECT_EQ(all(), (std::vector{weight(9), weight(3), weight(1)}));
  EXPECT_EQ(journal_->count().value(), 3u);
}

TEST_P(Contract, ReadsFromTheNth) {
  ASSERT_TRUE(journal_->append(std::vector{weight(1), weight(2), weight(3)}));
  EXPECT_EQ(journal_->read(1).value(), (std::vector{weight(2), weight(3)}));
  EXPECT_TRUE(journal_->read(3).value().empty());
  EXPECT_TRUE(journal_->read(std::numeric_limits<std::uint64_t>::max()).value().empty());
}

TEST_P(Contract, KeepsWhatItDoesNotKnow) {
  auto strange = record::decode_line(
      R"({"about":"Red","at":"2026-03-01T02:30:00+01:00","by":"phone","id":"00000000-0000-4000-8000-00000000000a",)"
      R"("kind":"moonphase","litter":"juniper-2026","note":"naïve \"quotes\" \\ \t 🐕","phase":[1,{"x":null}],)"
      R"("written":"2026-03-01T02:31:00+01:00"})");
  ASSERT_TRUE(strange) << to_text(strange.error());
  ASSERT_TRUE(journal_->append(std::vector{*strange}));
  EXPECT_EQ(all(), std::vector{*strange});
}

record::Person somebody(const std::string& family) {
  return {family,
          "Ines Hartwell; \"Ina\"",
          "01632 960777",
          "ines@example.org",
          "3 Mill Lane\nUpper Dene",
          "rings late 🐕",
          CivilDay{std::chrono::year{2027} / 5 / 1},
          true};
}

TEST_P(Contract, KeepsPeopleUnderTheirFamilysId) {
  auto& people = journal_->people();
  EXPECT_TRUE(people.list().value().empty());
  ASSERT_TRUE(people.put(somebody("f2")));
  ASSERT_TRUE(people.put({.family = "f1"}));
  EXPECT_EQ(people.list().value(), (std::vector{record::Person{.family = "f1"}, somebody("f2")}));
  EXPECT_EQ(people.get("f2").value(), somebody("f2"));
  EXPECT_FALSE(people.get("f3").value());
  EXPECT_PROBLEM(people.put({.family = "", .name = "Ines"}), "PERSON_FAMILY");
  EXPECT_EQ(journal_->count().value(), 0u) << "people are no part of the journal";
}

TEST_P(Contract, APersonIsChangedAndErased) {
  auto& people = journal_->people();
  ASSERT_TRUE(people.put(somebody("f1")));
  auto moved = somebody("f1");
  moved.address = "", moved.consent = false, moved.keep_until.reset();
  ASSERT_TRUE(people.put(moved));
  EXPECT_EQ(people.list().value(), std::vector{moved});
  ASSERT_TRUE(journal_->append(std::vector{weight(1)}));
  ASSERT_TRUE(people.erase("f1"));
  EXPECT_TRUE(people.list().value().empty());
  EXPECT_TRUE(people.erase("f1")) << "nobody left is fine";
  EXPECT_EQ(all(), std::vector{weight(1)});
}

TEST_P(Contract, ACopyHoldsThePeopleToo) {
  ASSERT_TRUE(journal_->people().put(somebody("f1")));
  const std::string copy = elsewhere_.path() + "/copy";
  ASSERT_TRUE(journal_->copy_to(copy));
  EXPECT_EQ(place_->restored_from(copy)->open()->people().list().value(), std::vector{somebody("f1")});
}

TEST_P(Contract, TakesAnEmptyBatch) {
  const auto receipt = journal_->append({});
  ASSERT_TRUE(receipt);
  EXPECT_EQ(receipt->appended + receipt->replayed, 0u);
}

TEST_P(Contract, ASecondSendingIsAReplay) {
  ASSERT_TRUE(journal_->append(std::vector{weight(1), weight(2)}));
  const auto receipt = journal_->append(std::vector{weight(2), weight(3), weight(1)});
  ASSERT_TRUE(receipt);
  EXPECT_EQ(receipt->appended, 1u);
  EXPECT_EQ(receipt->replayed, 2u);
  EXPECT_EQ(all(), (std::vector{weight(1), weight(2), weight(3)}));
}

TEST_P(Contract, SameIdWithOtherContentIsRefusedAndNothingOfTheBatchStays) {
  ASSERT_TRUE(journal_->append(std::vector{weight(1, 400)}));
  const auto refused = journal_->append(std::vector{weight(2), weight(1, 401), weight(3)});
  EXPECT_PROBLEM(refused, "STORE_CONFLICT");
  EXPECT_THAT(refused.error().what, testing::HasSubstr(uuid(1)));
  EXPECT_EQ(all(), std::vector{weight(1, 400)});
  EXPECT_EQ(journal_->append(std::vector{weight(4)}).value().appended, 1u) << "the journal must go on working";
}

TEST_P(Contract, OneIdTwiceInABatch) {
  const auto twice = journal_->append(std::vector{weight(1), weight(1)});
  ASSERT_TRUE(twice);
  EXPECT_EQ(twice->appended, 1u);
  EXPECT_EQ(twice->replayed, 1u);
  EXPECT_PROBLEM(journal_->append(std::vector{weight(2, 400), weight(2, 401)}), "STORE_CONFLICT");
  EXPECT_EQ(all(), std::vector{weight(1)});
}

TEST_P(Contract, RefusesWhatItCouldNotReadBack) {
  auto no_id = weight(1), no_litter = weight(2), nul_in_litter = weight(3), nul_in_kind = weight(4),
       endless = weight(5);
  no_id.id = "";
  no_litter.litter = "";
  nul_in_litter.litter = std::string("juniper\0x", 9);
  nul_in_kind.kind = std::string("moon\0phase", 10);
  nul_in_kind.body = record::Other{};
  endless.extra = record::Unread{record::Json{{"more", std::string(70'000, 'x')}}};
  for (const auto& bad : {no_id, no_litter, nul_in_litter, nul_in_kind, endless}) {
    const auto refused = journal_->append(std::vector{weight(9), bad});
    ASSERT_FALSE(refused.has_value()) << record::encode_line(bad).substr(0, 200);
    EXPECT_THAT(refused.error().code, testing::Not(testing::StartsWith("STORE_")))
        << "the entry is wrong, not the store";
  }
  EXPECT_TRUE(all().empty());
}

TEST_P(Contract, AnotherUserOfTheSameJournalSeesNewEntries) {
  const auto other = place_->open();
  EXPECT_EQ(other->count().value(), 0u);
  ASSERT_TRUE(journal_->append(std::vector{weight(1)}));
  EXPECT_EQ(other->count().value(), 1u);
  ASSERT_TRUE(other->append(std::vector{weight(2)}));
  EXPECT_EQ(all(), (std::vector{weight(1), weight(2)}));
  EXPECT_PROBLEM(other->append(std::vector{weight(1, 401)}), "STORE_CONFLICT");
}

TEST_P(Contract, ASettingIsMadeOnceAndStays) {
  const std::string secret("s\0e\xff\ncret", 9);
  EXPECT_EQ(journal_->setting("form", secret).value(), secret);
  EXPECT_EQ(journal_->setting("form", "another").value(), secret);
  EXPECT_EQ(place_->open()->setting("form", "a third").value(), secret);
  EXPECT_EQ(journal_->setting("else", "").value(), "");
  EXPECT_EQ(journal_->setting("else", "x").value(), "");
}

TEST_P(Contract, ACopyHoldsAllOfItAndIsNeverWrittenOver) {
  ASSERT_TRUE(journal_->append(std::vector{weight(1), weight(2)}));
  ASSERT_TRUE(journal_->setting("form", "secret"));
  const std::string copy = elsewhere_.path() + "/copy";
  const auto made = journal_->copy_to(copy);
  ASSERT_TRUE(made) << to_text(made.error());
  ASSERT_TRUE(journal_->append(std::vector{weight(3)}));
  EXPECT_PROBLEM(journal_->copy_to(copy), "STORE_EXISTS");

  const auto new_place = place_->restored_from(copy);
  const auto restored = new_place->open();
  EXPECT_EQ(restored->read().value(), (std::vector{weight(1), weight(2)}));
  EXPECT_EQ(restored->setting("form", "x").value(), "secret");
  EXPECT_EQ(restored->append(std::vector{weight(2), weight(3)}).value().appended, 1u);
  EXPECT_EQ(all().size(), 3u);
}

TEST_P(Contract, ACopyThatCannotBeMadeLeavesNothing) {
  EXPECT_FALSE(journal_->copy_to(elsewhere_.path() + "/no/such/folder/copy").has_value());
  EXPECT_TRUE(std::filesystem::is_empty(elsewhere_.path()));
}

// --- Openers ---------------------------------------------------------------------------------------------------

class SqlitePlace : public Place {
 public:
  std::unique_ptr<Journal> open() override { return opened(folder_->path()); }
  std::unique_ptr<Place> restored_from(const std::string& copy) override {
    auto place = std::make_unique<SqlitePlace>();
    const auto done = restore_sqlite(copy, place->folder_->path());
    if (!done) throw std::runtime_error(to_text(done.error()));
    return place;
  }

 protected:
  std::shared_ptr<TempFolder> folder_ = std::make_shared<TempFolder>(TempFolder::On::disk);
};

/// Opens the journal anew for every call: nothing may live in memory alone.
class Reopening final : public Journal, public People {
 public:
  explicit Reopening(std::shared_ptr<TempFolder> folder) : folder_{std::move(folder)} {}
  Result<Receipt> append(std::span<const record::Entry> entries) override { return open()->append(entries); }
  Result<std::vector<record::Entry>> read(std::uint64_t from) override { return open()->read(from); }
  Result<void> take_out(std::span<const record::Entry> entries) override { return open()->take_out(entries); }
  Result<std::uint64_t> count() override { return open()->count(); }
  Result<void> copy_to(const std::string& path) override { return open()->copy_to(path); }
  People& people() override { return *this; }
  Result<void> put(const record::Person& person) override { return open()->people().put(person); }
  Result<std::optional<record::Person>> get(const std::string& family) override { return open()->people().get(family); }
  Result<std::vector<record::Person>> list() override { return open()->people().list(); }
  Result<void> erase(const std::string& family) override { return open()->people().erase(family); }
  Result<std::string> setting(const std::string& name, const std::string& if_absent) override {
    return open()->setting(name, if_absent);
  }

 private:
  [[nodiscard]] std::unique_ptr<Journal> open() const { return opened(folder_->path()); }
  std::shared_ptr<TempFolder> folder_;
};

class ReopenedPlace final : public SqlitePlace {
 public:
  std::unique_ptr<Journal> open() override { return std::make_unique<Reopening>(folder_); }
};

INSTANTIATE_TEST_SUITE_P(Engines, Contract,
                         testing::Values(Opener{"sqlite", [] { return std::make_unique<SqlitePlace>(); }},
                                         Opener{"sqlite_reopened_each_call",
                                                [] { return std::make_unique<ReopenedPlace>(); }}),
                         [](const auto& opener) { return opener.param.name; });

}  // namespace
}  // namespace lampside::store::test
