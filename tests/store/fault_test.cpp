// Break the n-th operation of the disk for n = 1, 2, ... until all goes well, once and for ever, and look each time:
// all or nothing, nothing acknowledged is lost, the file is sound, and life goes on once the disk is well again.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <functional>
#include <sstream>

#include "fault_vfs.hpp"
#include "support.hpp"

namespace lampside::store::test {
namespace {

using Lasting = FaultVfs::Lasting;

/// What one trial did before and after the disk failed.
struct Trial {
  TempFolder folder, elsewhere;
  std::vector<unsigned> acknowledged;
  std::vector<Problem> problems;

  template <class T>
  bool note(const Result<T>& result) {
    if (!result) problems.push_back(result.error());
    return result.has_value();
  }
  void append(Journal& journal, unsigned number) {
    if (note(journal.append(pair(number)))) acknowledged.push_back(number);
  }
  [[nodiscard]] std::string copy() const { return elsewhere.path() + "/copy.db"; }
};

/// A job during which the disk fails. Before it the journal holds pairs 0 and 1, in the present layout or in layout 1;
/// or there is none. The job says itself when the disk is to break: `break_disk` is its second argument.
enum class Before { nothing, journal, layout_1 };
struct Job {
  std::string name;
  Before before;
  std::function<void(Trial&, const std::function<void()>&)> work;
};
void PrintTo(const Job& job, std::ostream* out) { *out << job.name; }

void prepare(Before before, Trial& trial) {
  if (before == Before::journal) {
    const auto journal = opened(trial.folder.path());
    trial.append(*journal, 0);
    trial.append(*journal, 1);
  } else if (before == Before::layout_1) {
    std::ostringstream script;
    script << std::ifstream{LAMPSIDE_SOURCE_DIR "/tests/store/fixtures/version1.sql"}.rdbuf();
    RawDatabase raw{trial.folder.database()};
    raw.rows(script.str().substr(0, script.str().find("INSERT INTO entry")));
    for (const unsigned number : {0u, 1u}) {
      for (const auto& e : pair(number)) {
        raw.rows("INSERT INTO entry (id, body) VALUES ('" + e.id + "','" + record::encode_line(e) + "')");
      }
      trial.acknowledged.push_back(number);
    }
  }
}

constexpr int kMostOperations = 2000;  // a loop that has not come to its end by then has stopped counting

class NthOperationFails : public testing::TestWithParam<std::tuple<Job, Lasting>> {};

/// After the disk is well again: everything must be as if the failed calls had never been made, or had succeeded.
void expect_all_well(const Trial& trial) {
  ASSERT_EQ(fault_of_pairs(trial.folder.path(), trial.acknowledged), "");
  for (const auto& p : trial.problems) EXPECT_TRUE(p.code.starts_with("STORE_") && !p.todo.empty()) << to_text(p);
  // Sending everything again is harmless, and completes what was refused.
  const auto journal = opened(trial.folder.path());
  for (const unsigned number : {0u, 1u, 2u, 3u}) EXPECT_TRUE(journal->append(pair(number)));
  EXPECT_EQ(fault_of_pairs(trial.folder.path(), {0, 1, 2, 3}), "");
  // A copy is whole or not there, and nothing half-made lies about.
  for (const auto& file : std::filesystem::directory_iterator{trial.elsewhere.path()}) {
    EXPECT_EQ(file.path().string(), trial.copy());
  }
  if (std::filesystem::exists(trial.copy())) {
    const TempFolder back;
    EXPECT_TRUE(restore_sqlite(trial.copy(), back.path()));
    EXPECT_EQ(fault_of_pairs(back.path(), {0, 1}), "");
  }
}

TEST_P(NthOperationFails, AllOrNothing) {
  const auto& [job, lasting] = GetParam();
  FaultVfs disk;
  int n = 0;
  for (bool failed = true; failed;) {
    ASSERT_LT(++n, kMostOperations);
    SCOPED_TRACE(testing::Message() << "operation " << n);
    Trial trial;
    prepare(job.before, trial);
    job.work(trial, [&] { disk.fail(n, lasting); });
    failed = disk.has_failed();
    disk.heal();
    expect_all_well(trial);
    if (HasFatalFailure()) return;
    EXPECT_TRUE(failed || trial.problems.empty()) << to_text(trial.problems.front());
  }
  EXPECT_GT(n, 3) << "the disk never failed: this proved nothing";
  RecordProperty("operations", n - 1);
}

const std::vector<Job> kJobs{
    {"make_a_journal", Before::nothing,
     [](Trial& trial, const auto& break_disk) {
       break_disk();
       if (auto journal = open_sqlite(trial.folder.path()); trial.note(journal)) trial.append(**journal, 2);
     }},
    {"open_append_close", Before::journal,
     [](Trial& trial, const auto& break_disk) {
       break_disk();
       auto journal = open_sqlite(trial.folder.path());
       if (!trial.note(journal)) return;
       trial.append(**journal, 2);
       trial.append(**journal, 3);
     }},
    {"append", Before::journal,
     [](Trial& trial, const auto& break_disk) {
       const auto journal = opened(trial.folder.path());
       break_disk();
       trial.append(*journal, 2);
       trial.append(*journal, 3);
     }},
    {"upgrade", Before::layout_1,
     [](Trial& trial, const auto& break_disk) {
       break_disk();
       if (auto journal = open_sqlite(trial.folder.path()); trial.note(journal)) trial.append(**journal, 2);
     }},
    {"copy", Before::journal,
     [](Trial& trial, const auto& break_disk) {
       const auto journal = opened(trial.folder.path());
       break_disk();
       trial.note(journal->copy_to(trial.copy()));
     }},
    {"setting", Before::journal,
     [](Trial& trial, const auto& break_disk) {
       const auto journal = opened(trial.folder.path());
       break_disk();
       const auto value = journal->setting("form", "secret");
       EXPECT_EQ(trial.note(value) ? *value : "secret", "secret");
       trial.append(*journal, 2);
     }},
};

INSTANTIATE_TEST_SUITE_P(Jobs, NthOperationFails,
                         testing::Combine(testing::ValuesIn(kJobs), testing::Values(Lasting::once, Lasting::forever)),
                         [](const auto& trial) {
                           const bool once = std::get<1>(trial.param) == Lasting::once;
                           return std::get<0>(trial.param).name + (once ? "_once" : "_for_ever");
                         });

// A journal that stays open across the failure must go on working with the disk, without being opened anew.
TEST(NthOperationFailsThen, TheSameJournalGoesOn) {
  FaultVfs disk;
  bool failed = true;
  for (int n = 1; failed; ++n) {
    ASSERT_LT(n, kMostOperations);
    SCOPED_TRACE(testing::Message() << "operation " << n);
    Trial trial;
    prepare(Before::journal, trial);
    const auto journal = opened(trial.folder.path());
    disk.fail(n, Lasting::forever);
    trial.append(*journal, 2);
    failed = disk.has_failed();
    disk.heal();
    const bool was_refused = !trial.problems.empty();
    EXPECT_EQ(journal->count().value(), was_refused ? 4u : 6u) << "refused means that nothing was saved";
    EXPECT_EQ(journal->append(pair(2)).value().appended, was_refused ? 2u : 0u);
    trial.append(*journal, 3);
    EXPECT_EQ(fault_of_pairs(trial.folder.path(), {0, 1, 2, 3}), "");
  }
}

// --- Twins: wrong on purpose, and the same check must see it -----------------------------------------------------

bool is_caught(const std::function<void(Trial&, Journal&)>& work) {
  FaultVfs disk;
  bool failed = true, caught = false;
  for (int n = 1; failed && n < kMostOperations; ++n) {
    Trial trial;
    const auto journal = opened(trial.folder.path());
    disk.fail(n, Lasting::forever);
    work(trial, *journal);
    failed = disk.has_failed();
    disk.heal();
    caught = caught || !fault_of_pairs(trial.folder.path(), trial.acknowledged).empty();
  }
  return caught;
}

TEST(NthOperationFailsTwin, AWriterThatTearsAPairIsCaught) {
  EXPECT_TRUE(is_caught([](Trial& trial, Journal& journal) {
    const auto both = pair(2);
    const std::span<const record::Entry> halves{both};
    if (journal.append(halves.first(1)) && journal.append(halves.last(1))) trial.acknowledged.push_back(2);
  }));
}

TEST(NthOperationFailsTwin, AWriterThatAcknowledgesTooEarlyIsCaught) {
  EXPECT_TRUE(is_caught([](Trial& trial, Journal& journal) {
    trial.acknowledged.push_back(2);
    (void)journal.append(pair(2));
  }));
}

TEST(NthOperationFailsTwin, AGoodWriterIsNot) {
  EXPECT_FALSE(is_caught([](Trial& trial, Journal& journal) { trial.append(journal, 2); }));
}

}  // namespace
}  // namespace lampside::store::test
