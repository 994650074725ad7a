// What was acknowledged must lie on the disk itself: losing the power must not lose it. A kill cannot show that; here
// the file system under SQLite says, after every call, whether anything written is still waiting to be synced.
#include <gtest/gtest.h>

#include "fault_vfs.hpp"
#include "support.hpp"

namespace lampside::store::test {
namespace {

TEST(Synced, EveryAcknowledgedEntryLiesOnTheDisk) {
  FaultVfs disk;
  const TempFolder folder;
  const auto journal = opened(folder.path());
  for (unsigned number = 0; number < 400; ++number) {  // long enough for the log to be carried over into the file
    ASSERT_TRUE(journal->append(pair(number)));
    ASSERT_FALSE(disk.has_unsynced("-wal")) << "pair " << number;
  }
  ASSERT_TRUE(journal->setting("form", "secret").has_value());
  EXPECT_FALSE(disk.has_unsynced("-wal"));
}

TEST(Synced, ACopyLiesOnTheDisk) {
  FaultVfs disk;
  const TempFolder folder, elsewhere;
  const auto journal = opened(folder.path());
  ASSERT_TRUE(journal->append(pair(1)));
  ASSERT_TRUE(journal->copy_to(elsewhere.path() + "/copy.db"));
  EXPECT_FALSE(disk.has_unsynced(""));
}

TEST(Synced, TwinAWriterThatDoesNotWaitIsCaught) {
  FaultVfs disk;
  const TempFolder folder;
  (void)opened(folder.path());
  RawDatabase raw{folder.database()};
  raw.rows("PRAGMA synchronous = NORMAL");
  const std::string line = record::encode_line(weight(1));
  raw.rows("INSERT INTO entry (id, litter, kind, body) VALUES ('" + uuid(1) + "', 'juniper-2026', 'weight', '" + line +
           "')");
  EXPECT_TRUE(disk.has_unsynced("-wal"));
}

}  // namespace
}  // namespace lampside::store::test
