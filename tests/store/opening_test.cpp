// Opening: what is made, what is brought up to date, and what is refused untouched.
#include <fcntl.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/stat.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <sstream>

#include "support.hpp"

namespace lampside::store::test {
namespace {

namespace fs = std::filesystem;

std::string bytes_of(const std::string& path) {
  std::ostringstream text;
  text << std::ifstream{path, std::ios::binary}.rdbuf();
  return text.str();
}

void write_bytes(const std::string& path, const std::string& bytes) { std::ofstream{path, std::ios::binary} << bytes; }

std::string code_of_opening(const std::string& folder) {
  const auto journal = open_sqlite(folder);
  if (journal) return "opened";
  EXPECT_FALSE(journal.error().todo.empty());
  return journal.error().code;
}

unsigned mode_of(const std::string& path) {
  struct stat status{};
  if (::stat(path.c_str(), &status) != 0) return 0;
  return status.st_mode & 0777u;
}

/// The layout of a file as text, for comparing two.
std::string layout_of(const std::string& path) {
  RawDatabase raw{path};
  return raw.rows("SELECT type, name, tbl_name, sql FROM sqlite_schema ORDER BY type, name") +
         raw.rows("PRAGMA user_version") + raw.rows("PRAGMA application_id") +
         raw.rows("SELECT max(version) FROM layout") + raw.rows("PRAGMA journal_mode");
}

TEST(Opening, MakesAPrivateFileInANewFolder) {
  const TempFolder folder;
  const mode_t old_mask = ::umask(0);
  const std::string made = folder.path() + "/new/data";
  const auto journal = opened(made);
  ASSERT_TRUE(journal->append(std::vector{weight(1)}));
  ::umask(old_mask);
  EXPECT_EQ(mode_of(made), 0700u);
  for (const char* suffix : {"", "-wal", "-shm"}) EXPECT_EQ(mode_of(made + "/lampside.db" + suffix), 0600u) << suffix;
}

TEST(Opening, SetsTheModesThatKeepEntriesSafe) {
  const TempFolder folder;
  (void)opened(folder.path());
  RawDatabase raw{folder.database()};
  EXPECT_EQ(raw.rows("PRAGMA journal_mode"), "wal\n");
  EXPECT_EQ(raw.rows("PRAGMA application_id"), "1281453424\n");
  EXPECT_EQ(raw.rows("PRAGMA user_version"), "3\n");
}

TEST(Opening, ANameLikeAUriIsAName) {
  const TempFolder folder;
  const auto before = fs::current_path();
  fs::current_path(folder.path());
  auto journal = open_sqlite("file:x?mode=memory");
  EXPECT_TRUE(journal && (*journal)->append(std::vector{weight(1)}) && (*journal)->copy_to("file:copy?mode=memory"));
  EXPECT_TRUE(fs::exists("file:x?mode=memory/lampside.db"));
  EXPECT_TRUE(restore_sqlite("file:copy?mode=memory", "back"));
  fs::current_path(before);
  EXPECT_TRUE(journal && (*journal)->copy_to(folder.path() + "/second")) << "from whatever folder the program works in";
  EXPECT_EQ(opened(folder.path() + "/back")->count().value(), 1u);
}

TEST(Opening, AnEmptyFileIsANewJournal) {  // what a crash leaves behind that came just after the file was made
  const TempFolder folder;
  write_bytes(folder.database(), "");
  EXPECT_EQ(opened(folder.path())->append(std::vector{weight(1)}).value().appended, 1u);
}

TEST(Opening, APathThatCannotHoldAJournalIsRefused) {
  const TempFolder folder;
  write_bytes(folder.path() + "/file", "x");
  EXPECT_EQ(code_of_opening(folder.path() + "/file"), "STORE_OPEN");
  EXPECT_EQ(code_of_opening(folder.path() + "/file/data"), "STORE_OPEN");
}

TEST(Opening, ANewerJournalIsRefusedUntouched) {
  const TempFolder folder;
  ASSERT_TRUE(opened(folder.path())->append(std::vector{weight(1)}));
  RawDatabase{folder.database()}.rows("PRAGMA user_version = 4");
  const std::string before = bytes_of(folder.database());
  EXPECT_EQ(code_of_opening(folder.path()), "STORE_NEWER");
  EXPECT_EQ(bytes_of(folder.database()), before);
  const TempFolder other;
  EXPECT_EQ(restore_sqlite(folder.database(), other.path()).error().code, "STORE_NEWER");
  EXPECT_TRUE(fs::is_empty(other.path()));
}

TEST(Opening, AnotherProgramsDatabaseIsRefusedUntouched) {
  const TempFolder folder;
  RawDatabase{folder.database()}.rows("CREATE TABLE recipe (name TEXT)");
  const std::string before = bytes_of(folder.database());
  EXPECT_EQ(code_of_opening(folder.path()), "STORE_OPEN");
  EXPECT_EQ(bytes_of(folder.database()), before);
  EXPECT_EQ(fs::exists(folder.database() + "-wal"), false);
}

TEST(Opening, AFileThatIsNoDatabaseIsRefusedUntouched) {
  const TempFolder folder;
  const std::string photo = "\xff\xd8\xff\xe0 a photo of a pup" + std::string(9000, 'x');
  write_bytes(folder.database(), photo);
  EXPECT_EQ(code_of_opening(folder.path()), "STORE_DAMAGED");
  EXPECT_EQ(bytes_of(folder.database()), photo);
}

TEST(Opening, ATableThatIsNotOursIsRefused) {
  const TempFolder folder;
  (void)opened(folder.path());
  RawDatabase{folder.database()}.rows("ALTER TABLE setting ADD COLUMN more TEXT");
  EXPECT_EQ(code_of_opening(folder.path()), "STORE_DAMAGED");
}

// Damage every page but the first in turn: each must be found at opening, none may crash the program.
TEST(Opening, ADamagedPageIsFound) {
  const TempFolder folder;
  {
    const auto journal = opened(folder.path());
    for (unsigned i = 0; i < 60; ++i) {
      const auto receipt = journal->append(pair(i));
      ASSERT_TRUE(receipt) << to_text(receipt.error());
    }
  }
  const std::string sound = bytes_of(folder.database());
  constexpr std::size_t page = 4096;
  ASSERT_GT(sound.size(), 8 * page);
  unsigned found = 0, pages = 0;
  for (std::size_t at = page; at + page <= sound.size(); at += page, ++pages) {
    std::string damaged = sound;
    for (std::size_t i = at; i < at + 64; ++i) damaged[i] = static_cast<char>(~damaged[i]);
    write_bytes(folder.database(), damaged);
    found += code_of_opening(folder.path()) == "STORE_DAMAGED" ? 1u : 0u;
  }
  EXPECT_EQ(found, pages);
  write_bytes(folder.database(), sound);
  EXPECT_EQ(opened(folder.path())->count().value(), 120u)
      << "the undamaged file must pass, or this test proves nothing";
}

TEST(Opening, ATruncatedFileIsFound) {
  const TempFolder folder;
  {
    const auto journal = opened(folder.path());
    for (unsigned i = 0; i < 60; ++i) {
      const auto receipt = journal->append(pair(i));
      ASSERT_TRUE(receipt) << to_text(receipt.error());
    }
  }
  fs::resize_file(folder.database(), fs::file_size(folder.database()) / 2);
  EXPECT_EQ(code_of_opening(folder.path()), "STORE_DAMAGED");
}

TEST(Opening, AnEntryThatCannotBeReadIsNamedNotDropped) {
  const TempFolder folder;
  const auto journal = opened(folder.path());
  ASSERT_TRUE(journal->append(std::vector{weight(1)}));
  RawDatabase{folder.database()}.rows(
      R"(INSERT INTO entry (id, litter, kind, body) VALUES ('x', 'l', 'k', '{"id":"x","litter":"l","kind":"k"}'))");
  const auto entries = journal->read();
  ASSERT_FALSE(entries);
  EXPECT_EQ(entries.error().code, "STORE_DAMAGED");
  EXPECT_THAT(entries.error().what, testing::HasSubstr("entry number 2 "));
}

TEST(Opening, AJournalThatWasMovedAwayTakesNoMoreEntries) {
  const TempFolder folder;
  const auto journal = opened(folder.path());
  ASSERT_TRUE(journal->append(std::vector{weight(1)}));
  fs::rename(folder.database(), folder.path() + "/elsewhere.db");
  const auto refused = journal->append(std::vector{weight(2)});
  ASSERT_FALSE(refused) << "it would be lost with the program";
  EXPECT_EQ(refused.error().code, "STORE_IO");
  fs::rename(folder.path() + "/elsewhere.db", folder.database());
  EXPECT_TRUE(journal->append(std::vector{weight(2)}));
}

class Upgrade : public testing::TestWithParam<std::string> {
 protected:
  void SetUp() override {
    std::ostringstream script;
    script << std::ifstream{LAMPSIDE_SOURCE_DIR "/tests/store/fixtures/version" + GetParam() + ".sql"}.rdbuf();
    ASSERT_EQ(RawDatabase{folder_.database()}.run(script.str()), "");
  }
  TempFolder folder_;
};

TEST_P(Upgrade, KeepsEveryEntryInItsOrder) {
  const std::string before = RawDatabase{folder_.database()}.rows("SELECT body FROM entry ORDER BY sequence");
  const auto journal = opened(folder_.path());
  const auto entries = journal->read();
  ASSERT_TRUE(entries) << to_text(entries.error());
  ASSERT_EQ(entries->size(), 4u);
  EXPECT_EQ(entries->at(2).kind, "weight");
  EXPECT_EQ(entries->at(3).kind, "birth");
  EXPECT_EQ(journal->count().value(), 4u);
  EXPECT_EQ(RawDatabase{folder_.database()}.rows("SELECT body FROM entry ORDER BY sequence"), before);
  EXPECT_EQ(RawDatabase{folder_.database()}.rows("SELECT sequence, kind, litter FROM entry"),
            "1|mating|juniper-2026\n2|temperature|juniper-2026\n3|weight|juniper-2026\n4|birth|juniper-2026\n");
}

TEST_P(Upgrade, GivesTheSameLayoutAsANewFile) {
  (void)opened(folder_.path());
  const TempFolder fresh;
  (void)opened(fresh.path());
  EXPECT_EQ(layout_of(folder_.database()), layout_of(fresh.database()));
}

TEST_P(Upgrade, HasRoomForPeople) {
  const auto journal = opened(folder_.path());
  EXPECT_TRUE(journal->people().put({.family = "f1", .name = "Ines"}));
  EXPECT_EQ(journal->people().list().value().size(), 1u);
}

INSTANTIATE_TEST_SUITE_P(From, Upgrade, testing::Values("1", "2"));

class UpgradeFrom1 : public Upgrade {};
INSTANTIATE_TEST_SUITE_P(From, UpgradeFrom1, testing::Values("1"));

TEST_P(UpgradeFrom1, ThatCannotBeDoneLeavesTheOldFileAsItWas) {
  RawDatabase{folder_.database()}.rows("INSERT INTO entry VALUES (7, 'x', '{\"id\":\"x\"}')");  // no litter, no kind
  const std::string query = "SELECT * FROM entry ORDER BY sequence; SELECT name, sql FROM sqlite_schema";
  const std::string before = RawDatabase{folder_.database()}.rows(query);
  EXPECT_EQ(code_of_opening(folder_.path()), "STORE_DAMAGED");
  EXPECT_EQ(RawDatabase{folder_.database()}.rows(query), before);
  EXPECT_EQ(RawDatabase{folder_.database()}.rows("PRAGMA user_version"), "1\n");
}

}  // namespace
}  // namespace lampside::store::test
