// Many at once: threads that share a journal, and programs that share its file.
#include <gtest/gtest.h>

#include <atomic>
#include <chrono>
#include <filesystem>
#include <memory>
#include <thread>

#include "processes.hpp"
#include "support.hpp"

namespace lampside::store::test {
namespace {

TEST(Together, ThreadsShareOneJournal) {
  const TempFolder folder, elsewhere;
  const auto journal = opened(folder.path());
  constexpr unsigned kThreads = 4, kPairs = 25;
  std::atomic<int> refused{0};
  std::vector<std::thread> threads;
  for (unsigned thread = 0; thread < kThreads; ++thread) {
    threads.emplace_back([&, thread] {
      std::uint64_t seen = 0;
      for (unsigned i = 0; i < kPairs; ++i) {
        if (!journal->append(pair(thread * 1000 + i))) ++refused;
        const auto entries = journal->read();
        if (!entries || entries->size() < seen + 2) ++refused;  // one's own pair is seen at once, nothing goes away
        seen = entries ? entries->size() : seen;
        if (i % 10 == 0 && !journal->copy_to(elsewhere.path() + "/" + std::to_string(thread * 1000 + i))) ++refused;
        if (journal->setting("form", std::to_string(thread)).value_or("?").size() != 1) ++refused;
      }
    });
  }
  for (auto& thread : threads) thread.join();
  EXPECT_EQ(refused, 0);
  EXPECT_EQ(journal->count().value(), 2 * kThreads * kPairs);
  EXPECT_EQ(fault_of_pairs(folder.path(), {0, 1000, 2000, 3000, 3024}), "");
  for (const auto& copy : std::filesystem::directory_iterator{elsewhere.path()}) {
    const TempFolder back;
    ASSERT_TRUE(restore_sqlite(copy.path(), back.path()));
    EXPECT_EQ(fault_of_pairs(back.path(), {}), "") << "a copy made between two appends";
  }
}

TEST(Together, ProgramsShareOneFileFromItsFirstMomentOn) {
  for (int round = 0; round < 5; ++round) {
    const TempFolder folder;
    std::vector<std::unique_ptr<Writer>> writers;
    for (unsigned i = 0; i < 4; ++i) writers.push_back(std::make_unique<Writer>(folder.path(), "honest", i * 1000, 20));
    std::vector<unsigned> acknowledged;
    for (const auto& writer : writers) {
      ASSERT_EQ(writer->wait(), 0) << "round " << round;
      acknowledged.insert(acknowledged.end(), writer->acknowledged().begin(), writer->acknowledged().end());
    }
    EXPECT_EQ(acknowledged.size(), 80u);
    EXPECT_EQ(fault_of_pairs(folder.path(), acknowledged), "");
    EXPECT_EQ(opened(folder.path())->count().value(), 160u);
  }
}

// SQLite gives up at once where it turns the log on while another program holds the file: the waiting is ours.
TEST(Together, AnOpeningWaitsForAnotherProgramsWrite) {
  const TempFolder folder;
  RawDatabase other{folder.database()};
  other.rows("BEGIN IMMEDIATE");
  std::thread later{[&] {
    std::this_thread::sleep_for(std::chrono::milliseconds{300});
    other.rows("ROLLBACK");
  }};
  const auto journal = open_sqlite(folder.path());
  later.join();
  EXPECT_TRUE(journal) << to_text(journal.error());
}

TEST(Together, WhoeverHasToWaitTooLongIsTold) {
  const TempFolder folder;
  const auto journal = opened(folder.path());
  ASSERT_TRUE(journal->append(pair(1)));
  RawDatabase other{folder.database()};
  other.rows("BEGIN IMMEDIATE");
  const auto refused = journal->append(pair(2));
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().code, "STORE_BUSY");
  EXPECT_EQ(journal->read().value().size(), 2u) << "reading waits for nobody";
  other.rows("ROLLBACK");
  EXPECT_TRUE(journal->append(pair(2)));
}

}  // namespace
}  // namespace lampside::store::test
