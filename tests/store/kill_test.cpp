// Really kill it: a program appends pairs for ever, is killed at some moment, and the journal is opened again. No pair
// may be torn, none that was acknowledged lost. A kill tests the program; that the power may go is sync_test's matter.
#include <gtest/gtest.h>
#include <unistd.h>

#include <algorithm>

#include "processes.hpp"
#include "support.hpp"

namespace lampside::store::test {
namespace {

constexpr unsigned kRounds = 24;

struct Killed {
  std::string fault;
  std::size_t acknowledged = 0;
};

/// Kills a writer of that way `rounds` times, on one journal, a little later each time; stops at the first fault.
Killed killed_again_and_again(const std::string& way, unsigned rounds) {
  const TempFolder folder;
  std::vector<unsigned> acknowledged;
  unsigned next = 0;
  for (unsigned round = 0; round < rounds; ++round) {
    Writer writer{folder.path(), way, next};
    // The first rounds hit it while it makes or opens the journal, the others at work.
    if (round % 4 != 0) writer.wait_for_one();
    ::usleep(round % 4 != 0 ? 137 * (round + 1) : 900 * round);
    writer.kill();
    acknowledged.insert(acknowledged.end(), writer.acknowledged().begin(), writer.acknowledged().end());
    const std::string fault = fault_of_pairs(folder.path(), acknowledged);
    if (!fault.empty()) return {"round " + std::to_string(round) + ": " + fault, acknowledged.size()};
    next = static_cast<unsigned>(opened(folder.path())->count().value() / 2);
  }
  return {"", acknowledged.size()};
}

TEST(Kill, NoPairIsTornAndNoneAcknowledgedIsLost) {
  const Killed killed = killed_again_and_again("honest", kRounds);
  EXPECT_EQ(killed.fault, "");
  EXPECT_GE(killed.acknowledged, kRounds / 2) << "killed before it wrote anything: this proved nothing";
  RecordProperty("acknowledged", static_cast<int>(killed.acknowledged));
}

TEST(Kill, WhileTwoWrite) {
  const TempFolder folder;
  for (unsigned round = 0; round < 8; ++round) {
    Writer killed{folder.path(), "honest", 100'000 * round + 1},
        survivor{folder.path(), "honest", 100'000 * round + 50'000, 25};
    killed.wait_for_one();
    ::usleep(500 * round);
    killed.kill();
    ASSERT_EQ(survivor.wait(), 0) << "one program's death must not stop the other";
    auto acknowledged = survivor.acknowledged();
    EXPECT_EQ(acknowledged.size(), 25u);
    acknowledged.insert(acknowledged.end(), killed.acknowledged().begin(), killed.acknowledged().end());
    ASSERT_EQ(fault_of_pairs(folder.path(), acknowledged), "");
  }
}

TEST(Kill, TwinAWriterThatTearsPairsIsCaught) {
  EXPECT_NE(killed_again_and_again("torn", 200).fault.find("torn pair"), std::string::npos);
}

TEST(Kill, TwinAWriterThatAcknowledgesTooEarlyIsCaught) {
  EXPECT_NE(killed_again_and_again("early", 200).fault.find("lost acknowledged pair"), std::string::npos);
}

}  // namespace
}  // namespace lampside::store::test
