// Erased is erased: not a byte of a person stays in the journal's files.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <functional>
#include <nlohmann/json.hpp>

#include "support.hpp"

namespace lampside::store::test {
namespace {

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
  ASSERT_THAT(bytes_of(folder.path()), testing::HasSubstr("Hartwell-Quill")) << "the probe sees what is there";

  ASSERT_TRUE(journal->people().erase("f99"));
  const auto left = bytes_of(folder.path());
  for (const char* trace : {"Hartwell", "960777", "960888", "Quill-end", "xxxxxxxxxx"})
    EXPECT_THAT(left, testing::Not(testing::HasSubstr(trace)));
  EXPECT_EQ(journal->people().list().value().size(), 40u);
  EXPECT_EQ(journal->count().value(), 29u);
}

TEST(Erased, AWordTakenOutOfAnEntryLeavesNoTraceEither) {
  const TempFolder folder;
  const auto journal = opened(folder.path());
  auto named = weight(1);
  named.note = "Ines Hartwell-Quill held it";
  auto without = named;
  without.note = "[erased] held it";
  without.extra = record::Unread{record::Json{{"name_out", "2026-03-02"}}};
  for (unsigned i = 2; i < 30; ++i) ASSERT_TRUE(journal->append(std::vector{weight(i)}));
  ASSERT_TRUE(journal->append(std::vector{named}));
  ASSERT_THAT(bytes_of(folder.path()), testing::HasSubstr("Hartwell")) << "the probe sees what is there";
  ASSERT_TRUE(journal->take_out(std::vector{without}));
  EXPECT_THAT(bytes_of(folder.path()), testing::Not(testing::HasSubstr("Hartwell")));
  EXPECT_EQ(journal->read().value().back(), without);
  // The entry as another device still has it comes in again: no conflict, and the name does not come back.
  const auto again = journal->append(std::vector{named, weight(40)});
  ASSERT_TRUE(again) << to_text(again.error());
  EXPECT_EQ(again->appended, 1u);
  EXPECT_THAT(bytes_of(folder.path()), testing::Not(testing::HasSubstr("Hartwell")));
}

TEST(Erased, NothingButWordsCanBeTakenOut) {
  const TempFolder folder;
  const auto journal = opened(folder.path());
  auto named = weight(1);
  named.note = "Ines held it";
  ASSERT_TRUE(journal->append(std::vector{named, weight(2)}));
  const auto tried = [&](const std::function<void(record::Entry&)>& change) {
    auto e = named;
    e.note = "[erased] held it";
    e.extra = record::Unread{record::Json{{"name_out", "2026-03-02"}}};
    change(e);
    const auto out = journal->take_out(std::vector{e});
    EXPECT_EQ(journal->read().value().front(), named);
    return out ? std::string{} : out.error().code;
  };
  EXPECT_EQ(tried([](auto& e) { e.body = record::Weight{Grams{500}, {}, {}}; }), "STORE_CONFLICT");
  EXPECT_EQ(tried([](auto& e) { e.at.instant += std::chrono::hours{1}; }), "STORE_CONFLICT");
  EXPECT_EQ(tried([](auto& e) { e.about = "Blue"; }), "STORE_CONFLICT");
  EXPECT_EQ(tried([](auto& e) { e.corrects = uuid(2); }), "STORE_CONFLICT");
  EXPECT_EQ(tried([](auto& e) { e.note.clear(); }), "STORE_CONFLICT");
  EXPECT_EQ(tried([](auto& e) { e.extra = record::Unread{}; }), "STORE_CONFLICT");
  EXPECT_EQ(tried([](auto& e) { e.id = uuid(9); }), "STORE_CONFLICT");
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
