// Putting a copy back: only a sound one, only where no journal is.
#include <gtest/gtest.h>
#include <sys/stat.h>

#include <filesystem>
#include <fstream>
#include <functional>
#include <iterator>

#include "support.hpp"

namespace lampside::store::test {
namespace {

namespace fs = std::filesystem;

class Restore : public testing::Test {
 protected:
  void SetUp() override {
    journal_ = opened(folder_.path());
    for (unsigned number = 0; number < 40; ++number) ASSERT_TRUE(journal_->append(pair(number)));
    ASSERT_TRUE(journal_->copy_to(copy_));
  }
  [[nodiscard]] std::string code() const {
    const auto done = restore_sqlite(copy_, target_.path());
    return done ? "restored" : done.error().code;
  }
  TempFolder folder_, elsewhere_, target_;
  const std::string copy_ = elsewhere_.path() + "/copy.db";
  std::unique_ptr<Journal> journal_;
};

TEST_F(Restore, GivesTheJournalBackAndKeepsTheCopy) {
  EXPECT_EQ(code(), "restored");
  EXPECT_EQ(opened(target_.path())->read().value(), journal_->read().value());
  EXPECT_TRUE(fs::exists(copy_));
  for (const auto& file : {copy_, target_.database()}) {
    struct stat status{};
    ASSERT_EQ(::stat(file.c_str(), &status), 0);
    EXPECT_EQ(status.st_mode & 0777u, 0600u) << file;
  }
}

TEST_F(Restore, ACopyIsOneFileThatCanBeReadFromAWriteProtectedPlace) {
  EXPECT_EQ(std::distance(fs::directory_iterator{elsewhere_.path()}, fs::directory_iterator{}), 1);
  EXPECT_EQ(RawDatabase{"file:" + copy_ + "?immutable=1"}.rows("SELECT count(*) FROM entry"), "80\n");
  EXPECT_EQ(RawDatabase{copy_}.rows("PRAGMA journal_mode"), "delete\n");
}

TEST_F(Restore, NeverWritesOverAJournal) {
  (void)opened(target_.path());
  EXPECT_EQ(code(), "STORE_EXISTS");
  EXPECT_EQ(opened(target_.path())->count().value(), 0u);
}

TEST_F(Restore, RefusesAFolderWithTheLogOfAJournalThatIsGone) {
  std::ofstream{target_.database() + "-wal"} << "left behind";
  EXPECT_EQ(code(), "STORE_EXISTS");
  EXPECT_FALSE(fs::exists(target_.database()));
}

TEST_F(Restore, RefusesWhatIsNoSoundCopyAndLeavesNothing) {
  const std::vector<std::pair<std::string, std::function<void()>>> ways{
      {"STORE_IO", [&] { fs::remove(copy_); }},
      {"STORE_DAMAGED", [&] { std::ofstream{copy_, std::ios::trunc}; }},
      {"STORE_DAMAGED", [&] { std::ofstream{copy_, std::ios::trunc} << std::string(9000, 'x'); }},
      {"STORE_OPEN",
       [&] {
         fs::remove(copy_);
         RawDatabase{copy_}.rows("CREATE TABLE recipe (name TEXT)");
       }},
  };
  for (const auto& [wanted, spoil] : ways) {
    spoil();
    EXPECT_EQ(code(), wanted);
    EXPECT_TRUE(fs::is_empty(target_.path()));
  }
}

TEST_F(Restore, FindsEveryDamagedPageOfACopy) {
  constexpr std::uintmax_t page = 4096;
  const auto size = fs::file_size(copy_);
  ASSERT_GT(size, 6 * page);
  for (std::uintmax_t at = page; at < size; at += page) {
    const std::string damaged = elsewhere_.path() + "/damaged.db";
    fs::copy_file(copy_, damaged, fs::copy_options::overwrite_existing);
    std::fstream file{damaged, std::ios::binary | std::ios::in | std::ios::out};
    file.seekp(static_cast<std::streamoff>(at));
    file << std::string(64, '\xa5');
    file.close();
    const auto done = restore_sqlite(damaged, target_.path());
    ASSERT_FALSE(done) << "page " << at / page;
    EXPECT_EQ(done.error().code, "STORE_DAMAGED");
    EXPECT_TRUE(fs::is_empty(target_.path()));
  }
}

// A keeper may simply have copied the files of a running journal by hand, with the log beside the file.
TEST_F(Restore, TakesAFileCopiedByHandWithItsLog) {
  const std::string by_hand = elsewhere_.path() + "/by_hand.db";
  fs::copy_file(folder_.database(), by_hand);
  fs::copy_file(folder_.database() + "-wal", by_hand + "-wal");
  ASSERT_TRUE(restore_sqlite(by_hand, target_.path()));
  EXPECT_EQ(opened(target_.path())->count().value(), 80u);
}

// A copy of an older layout comes back too, and is brought up to date when it is opened.
TEST_F(Restore, TakesACopyOfAnOlderLayout) {
  fs::remove(copy_);
  std::ifstream script{LAMPSIDE_SOURCE_DIR "/tests/store/fixtures/version1.sql"};
  ASSERT_EQ(RawDatabase{copy_}.run({std::istreambuf_iterator<char>{script}, {}}), "");
  EXPECT_EQ(code(), "restored");
  EXPECT_EQ(opened(target_.path())->count().value(), 4u);
}

}  // namespace
}  // namespace lampside::store::test
