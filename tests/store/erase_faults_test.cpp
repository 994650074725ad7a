// Erasing a person, and taking a name out of an entry, while the disk fails, fills up, or the program is killed: what
// was promised is done without a trace, what was not can be done again, and no entry is lost over it.
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <algorithm>
#include <functional>
#include <nlohmann/json.hpp>

#include "fault_vfs.hpp"
#include "processes.hpp"
#include "support.hpp"

namespace lampside::store::test {
namespace {

using Lasting = FaultVfs::Lasting;
using testing::HasSubstr;
using testing::Not;

constexpr const char* kName = "Ines Hartwell-Quill";
const record::Person kInes{.family = "f1", .name = kName, .phone = "01632 960777", .note = std::string(5000, 'q')};

/// Pair 0, whose weight has a note that names her, and pair 1; and who she is.
std::unique_ptr<Journal> journal_that_names_her(const std::string& folder) {
  auto journal = opened(folder);
  auto named = pair(0);
  named.front().note = std::string(kName) + " held it";
  EXPECT_TRUE(journal->append(named));
  EXPECT_TRUE(journal->append(pair(1)));
  EXPECT_TRUE(journal->people().put(kInes));
  return journal;
}
record::Entry without_her() {
  auto e = pair(0).front();
  e.note = "[erased] held it";
  e.extra = record::Unread{record::Json{{"name_out", "2026-03-02"}}};
  return e;
}

/// What the keeper's one tap does: the words first, then the person.
Result<void> erase_her(Journal& journal) {
  if (auto out = journal.take_out(std::vector{without_her()}); !out) return out;
  return journal.people().erase("f1");
}
/// Wrong on purpose: says that it is done, whatever happened.
Result<void> erase_her_carelessly(Journal& journal) {
  (void)erase_her(journal);
  return {};
}

using Erase = std::function<Result<void>(Journal&)>;

/// What is wrong with a folder in which she was erased; "" when all is well.
std::string trace_in(const std::string& folder) {
  const std::string pairs = fault_of_pairs(folder, {0, 1});
  if (!pairs.empty()) return pairs;
  const auto bytes = bytes_of(folder);
  for (const char* trace : {"Hartwell", "960777", "qqqqqqqqqq"})
    if (bytes.find(trace) != std::string::npos) return std::string("a trace is left: ") + trace;
  const auto journal = opened(folder);
  if (!journal->people().list().value().empty()) return "the person is still there";
  return journal->read().value().front() == without_her() ? "" : "the entry is not as it should be";
}

struct Faults {
  std::string fault;
  int refused = 0, operations = 0;
};
Faults with_every_operation_failing(const Erase& erase, Lasting lasting) {
  FaultVfs disk;
  Faults out;
  bool failed = true;
  for (int n = 1; failed && n < 2000 && out.fault.empty(); ++n) {
    const TempFolder folder;
    {
      const auto journal = journal_that_names_her(folder.path());
      disk.fail(n, lasting);
      const auto done = erase(*journal);
      failed = disk.has_failed();
      disk.heal();
      out.operations = n;
      if (!done) {
        ++out.refused;
        if (!done.error().code.starts_with("STORE_") || to_text(done.error()).find("Hartwell") != std::string::npos)
          out.fault = "wrong words: " + to_text(done.error());
        if (const auto again = erase_her(*journal); !again) out.fault = "not even again: " + to_text(again.error());
      }
    }
    if (out.fault.empty()) out.fault = trace_in(folder.path());
  }
  return out;
}

TEST(EraseFaults, EveryOperationFailingOnceOrForEver) {
  for (const auto lasting : {Lasting::once, Lasting::forever}) {
    const auto faults = with_every_operation_failing(erase_her, lasting);
    EXPECT_EQ(faults.fault, "");
    EXPECT_GT(faults.refused, 3) << "the disk never failed: this proved nothing";
  }
}

TEST(EraseFaults, TwinACarelessEraserIsCaught) {
  EXPECT_NE(with_every_operation_failing(erase_her_carelessly, Lasting::forever).fault, "");
}

TEST(EraseFaults, AFullDiskAtEverySize) {
  FaultVfs disk;
  int refused = 0;
  bool failed = true;
  for (std::int64_t room = 0; failed; room += 2000) {
    ASSERT_LT(room, 4'000'000);
    const TempFolder folder;
    {
      const auto journal = journal_that_names_her(folder.path());
      disk.fill_up_after(room);
      const auto done = erase_her(*journal);
      failed = disk.has_failed();
      if (!done) {
        ++refused;
        EXPECT_EQ(done.error().code, "STORE_FULL") << to_text(done.error());
        EXPECT_TRUE(journal->read()) << "reading needs no room";
      }
      disk.heal();
      if (!done) {
        ASSERT_TRUE(erase_her(*journal));
      }
    }
    ASSERT_EQ(trace_in(folder.path()), "") << "with room for " << room;
  }
  EXPECT_GT(refused, 0) << "the disk never filled up: this proved nothing";
}

/// Kills a program that writes people down and erases them, again and again.
std::string trace_after_kills(const std::string& way, unsigned rounds, std::size_t& erased) {
  const TempFolder folder;
  unsigned next = 0;
  for (unsigned round = 0; round < rounds; ++round) {
    Writer writer{folder.path(), way, next};
    writer.wait_for_one();
    ::usleep(137 * (round + 1));
    writer.kill();
    erased += writer.acknowledged().size();
    const auto bytes = bytes_of(folder.path());
    for (const unsigned number : writer.acknowledged()) {
      next = std::max(next, number + 1);
      if (bytes.find(person(number).name) != std::string::npos) return "a trace of " + person(number).name;
    }
    ++next;  // it may have been at work on that one
    // Whoever was written down and not yet erased can be, and then nothing is left of anybody.
    {
      const auto journal = opened(folder.path());
      const auto people = journal->people().list().value();
      for (const auto& left : people)
        if (!journal->people().erase(left.family)) return "cannot be erased after a kill";
    }
    if (bytes_of(folder.path()).find("Person-") != std::string::npos) return "a trace of somebody";
  }
  return "";
}

TEST(EraseFaults, KilledAtAnyMoment) {
  std::size_t erased = 0;
  EXPECT_EQ(trace_after_kills("erase", 24, erased), "");
  EXPECT_GE(erased, 24u) << "killed before it erased anybody: this proved nothing";
}

TEST(EraseFaults, TwinOneThatSaysSoTooEarlyIsCaught) {
  std::size_t erased = 0;
  EXPECT_THAT(trace_after_kills("erase_early", 200, erased), HasSubstr("a trace of Person-"));
}

}  // namespace
}  // namespace lampside::store::test
