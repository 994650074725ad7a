// Erased is erased: not a byte of a person stays in the journal's files.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <sstream>

#include "support.hpp"

namespace lampside::store::test {
namespace {

/// Every byte of every file of the folder.
std::string all_bytes(const std::string& folder) {
  std::ostringstream out;
  for (const auto& file : std::filesystem::directory_iterator{folder})
    out << std::ifstream{file.path(), std::ios::binary}.rdbuf();
  return out.str();
}

TEST(Erased, NoByteOfAPersonStaysInAnyFile) {
  const TempFolder folder;
  const auto journal = opened(folder.path());
  // Enough of them for several pages, long lines on pages of their own, one changed and then erased.
  for (int i = 0; i < 40; ++i)
    ASSERT_TRUE(journal->people().put(
        {.family = "f" + std::to_string(i), .name = "Neighbour", .note = std::string(i % 7 == 0 ? 9000 : 60, 'n')}));
  record::Person ines{.family = "f99",
                      .name = "Ines Hartwell-Quill",
                      .phone = "01632 960777",
                      .note = std::string(9000, 'x') + "Quill-end"};
  ASSERT_TRUE(journal->people().put(ines));
  ines.phone = "01632 960888";
  ASSERT_TRUE(journal->people().put(ines));
  for (unsigned i = 1; i < 30; ++i) ASSERT_TRUE(journal->append(std::vector{weight(i)}));
  ASSERT_THAT(all_bytes(folder.path()), testing::HasSubstr("Hartwell-Quill")) << "the probe sees what is there";

  ASSERT_TRUE(journal->people().erase("f99"));
  const auto left = all_bytes(folder.path());
  for (const char* trace : {"Hartwell", "960777", "960888", "Quill-end", "xxxxxxxxxx"})
    EXPECT_THAT(left, testing::Not(testing::HasSubstr(trace)));
  EXPECT_EQ(journal->people().list().value().size(), 40u);
  EXPECT_EQ(journal->count().value(), 29u);
}

TEST(Erased, TheJournalsGuardsStandBesideAPersonsTable) {
  const TempFolder folder;
  const auto journal = opened(folder.path());
  ASSERT_TRUE(journal->append(std::vector{weight(1)}));
  ASSERT_TRUE(journal->people().put({.family = "f1", .name = "Ines"}));
  RawDatabase raw{folder.database()};
  EXPECT_NE(raw.run("DELETE FROM entry"), "");
  EXPECT_EQ(raw.run("DELETE FROM person"), "");
}

}  // namespace
}  // namespace lampside::store::test
