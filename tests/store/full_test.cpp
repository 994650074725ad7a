// The disk fills up: what was saved stays, what was not is refused with advice, and with room again life goes on.
#include <fcntl.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sched.h>
#include <sys/mount.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <functional>
#include <span>

#include "fault_vfs.hpp"
#include "support.hpp"

namespace lampside::store::test {
namespace {

using Append = std::function<Result<Receipt>(Journal&, const std::vector<record::Entry>&)>;

struct Filled {
  std::string fault;
  int refused = 0;
};

/// Makes a journal and fills it with ten pairs by way of `append`, at every size of the room that is left, in steps
/// smaller than a page; stops at the first fault.
Filled filled_at_every_size(const Append& append) {
  FaultVfs disk;
  Filled filled;
  bool failed = true;
  for (std::int64_t room = 0; failed && filled.fault.empty(); room += 2000) {
    const TempFolder folder;
    std::vector<unsigned> acknowledged;
    disk.fill_up_after(room);
    const auto journal = open_sqlite(folder.path());
    for (unsigned number = 0; journal && number < 10; ++number) {
      const auto receipt = append(**journal, pair(number));
      if (receipt) {
        acknowledged.push_back(number);
        continue;
      }
      ++filled.refused;
      EXPECT_EQ(receipt.error().code, "STORE_FULL") << to_text(receipt.error());
      EXPECT_THAT(receipt.error().todo, testing::HasSubstr("free some space"));
    }
    EXPECT_TRUE(journal || journal.error().code == "STORE_FULL") << to_text(journal.error());
    EXPECT_TRUE(!journal || (*journal)->read()) << "reading needs no room";
    failed = disk.has_failed();
    disk.heal();
    if (journal) {
      EXPECT_TRUE((*journal)->append(pair(10))) << "must work again without being opened anew";
      acknowledged.push_back(10);
    }
    filled.fault = fault_of_pairs(folder.path(), acknowledged);
  }
  return filled;
}

TEST(DiskFull, AtEverySizeAllOrNothing) {
  const Filled filled = filled_at_every_size([](Journal& journal, const auto& both) { return journal.append(both); });
  EXPECT_EQ(filled.fault, "");
  EXPECT_GT(filled.refused, 10) << "the disk never filled up: this proved nothing";
}

TEST(DiskFull, TwinAWriterThatTearsPairsIsCaught) {
  const Filled filled = filled_at_every_size([](Journal& journal, const auto& both) {
    const std::span<const record::Entry> halves{both};
    const auto first = journal.append(halves.first(1));
    return first ? journal.append(halves.last(1)) : first;
  });
  EXPECT_THAT(filled.fault, testing::HasSubstr("torn pair"));
}

TEST(DiskFull, ACopyOntoAFullDiskLeavesNothing) {
  FaultVfs disk;
  const TempFolder folder, elsewhere;
  const auto journal = opened(folder.path());
  for (unsigned number = 0; number < 10; ++number) ASSERT_TRUE(journal->append(pair(number)));
  disk.fill_up_after(8192);
  const auto copy = journal->copy_to(elsewhere.path() + "/copy.db");
  ASSERT_FALSE(copy);
  EXPECT_EQ(copy.error().code, "STORE_FULL");
  EXPECT_TRUE(std::filesystem::is_empty(elsewhere.path()));
  disk.heal();
  EXPECT_TRUE(journal->copy_to(elsewhere.path() + "/copy.db"));
}

/// What went wrong with a journal on a real small disk; "" when all was well.
std::string fault_on_a_real_disk(const std::string& folder) {
  const std::string ballast = folder + "/ballast";
  std::ofstream{ballast} << std::string(64 * 1024, 'x');
  const std::string data = folder + "/data";
  const auto journal = open_sqlite(data);
  if (!journal) return "cannot be opened: " + to_text(journal.error());
  std::vector<unsigned> acknowledged;
  for (unsigned number = 0;; ++number) {
    if (number > 10'000) return "the disk never filled up";
    const auto receipt = (*journal)->append(pair(number));
    if (receipt) {
      acknowledged.push_back(number);
      continue;
    }
    if (receipt.error().code != "STORE_FULL") return "wrong advice: " + to_text(receipt.error());
    break;
  }
  if ((*journal)->count().value_or(0) != 2 * acknowledged.size()) return "something of the refused pair stayed";
  std::filesystem::remove(ballast);
  const auto again = (*journal)->append(pair(20'000));
  if (!again) return "refused though there is room again: " + to_text(again.error());
  acknowledged.push_back(20'000);
  return fault_of_pairs(data, acknowledged);
}

/// In a process of its own, whose mounts vanish with it: mounts a disk of 512 KiB on `folder` and fills it.
/// "mount: ..." when this system does not let us mount.
std::string fault_on_a_small_mount(const std::string& folder) {
  int report[2];
  if (::pipe(report) != 0) return "no pipe";
  const pid_t child = ::fork();
  if (child == 0) {
    std::string text;
    const int spaces = CLONE_NEWNS | (::geteuid() == 0 ? 0 : CLONE_NEWUSER);
    if (::unshare(spaces) != 0 || ::mount(nullptr, "/", nullptr, MS_REC | MS_PRIVATE, nullptr) != 0 ||
        ::mount("tmpfs", folder.c_str(), "tmpfs", 0, "size=512k") != 0) {
      text = std::string("mount: ") + std::strerror(errno);
    } else {
      text = fault_on_a_real_disk(folder);
    }
    const bool told = ::write(report[1], text.data(), text.size()) == static_cast<ssize_t>(text.size());
    ::_exit(told ? 0 : 1);
  }
  ::close(report[1]);
  std::string text;
  char part[512];
  for (ssize_t n; (n = ::read(report[0], part, sizeof part)) > 0;) text.append(part, static_cast<std::size_t>(n));
  ::close(report[0]);
  int status = 0;
  ::waitpid(child, &status, 0);
  return WIFEXITED(status) && WEXITSTATUS(status) == 0 ? text : "the process ended badly: " + text;
}

TEST(DiskFull, ARealSmallDisk) {
  const TempFolder folder;
  const std::string fault = fault_on_a_small_mount(folder.path());
  if (fault.starts_with("mount: ")) GTEST_SKIP() << "this system does not let us mount a small disk (" << fault << ")";
  EXPECT_EQ(fault, "");
}

}  // namespace
}  // namespace lampside::store::test
