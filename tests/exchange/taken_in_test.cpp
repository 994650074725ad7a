// JSON Lines in, and what may join a journal.
#include "exchange/taken_in.hpp"

#include "journal.hpp"

namespace lampside::exchange {
namespace {

const std::string kLitter = line(1, "2026-02-01T12:00:00+01:00", R"("kind":"litter","zone":"Europe/Berlin")");
const std::string kBirth = line(2, "2026-03-01T02:14:00+01:00", R"("kind":"birth","about":"1","grams":412)");
const std::string kWeight = line(3, "2026-03-02T08:00:00+01:00", R"("kind":"weight","about":"1","grams":430)");

Result<Admission> join(const std::string& kept, const std::string& file, Misfits misfits = Misfits::refuse) {
  const TakenIn before = kept.empty() ? TakenIn{} : must_read(kept);
  return admit(before.entries, must_read(file), zone::load, misfits);
}
std::string refused(const std::string& kept, const std::string& file) {
  const auto a = join(kept, file);
  return a ? "" : a.error().code + " " + a.error().what;
}

TEST(Jsonl, ReadsEntriesWithTheirLines) {
  const TakenIn t = must_read("\xEF\xBB\xBF" + kLitter + "\r\n   \n" + kBirth);
  EXPECT_EQ(t.entries.size(), 2u);
  EXPECT_EQ(t.lines, (std::vector<std::size_t>{1, 4}));
}

TEST(Jsonl, WrittenAndReadIsTheSame) {
  const TakenIn t = must_read(kLitter + kBirth + kWeight);
  std::ostringstream out;
  ASSERT_TRUE(write_jsonl(out, t.entries));
  EXPECT_EQ(must_read(out.str()).entries, t.entries);
  std::ostringstream full;
  full.setstate(std::ios::badbit);
  EXPECT_EQ(write_jsonl(full, t.entries).error().code, "FILE_WRITE");
}

TEST(Jsonl, ErrorsNameTheLine) {
  const auto what = [](const std::string& text) {
    const auto t = read(text);
    return t ? std::string{"taken"} : t.error().what.substr(0, 8) + t.error().code;
  };
  EXPECT_EQ(what(kLitter + "{\"id\": oops}\n" + kBirth), "line 2: JSON_SYNTAX");
  EXPECT_EQ(what(kLitter + kBirth + "[1,2]\n"), "line 3: ENTRY_SHAPE");
  EXPECT_EQ(what(kLitter + "{}\n"), "line 2: ENTRY_MISSING");
  EXPECT_EQ(what(line(1, "2026-03-01T02:14:00", R"("kind":"note")")), "line 1: TIME_NO_OFFSET");
  EXPECT_EQ(what(line(1, "2026-03-01T02:14:00Z", R"("kind":"temperature","about":"dam","celsius":380)")),
            "line 1: ENTRY_IMPLAUSIBLE");
  EXPECT_EQ(what(std::string(70'000, ' ') + "\n"), "line 1: LINE_TOO_LONG");
  EXPECT_EQ(read("").error().code, "FILE_EMPTY");
  EXPECT_EQ(read("\n \n").error().code, "FILE_EMPTY");
  // Deep nesting must not eat the stack.
  EXPECT_NE(what(R"({"id":)" + std::string(30'000, '[') + "\n"), "taken");
}

TEST(Admit, AJournalMayJoinAnEmptyOneAndItself) {
  EXPECT_EQ(refused("", kLitter + kBirth + kWeight), "");
  EXPECT_EQ(refused(kLitter + kBirth + kWeight, kLitter + kBirth + kWeight), "");
  EXPECT_EQ(refused("", kLitter + kBirth + kBirth), "");   // the same entry twice in one file
  EXPECT_EQ(refused(kLitter + kBirth, kWeight), "");       // its birth lies in the journal
  EXPECT_EQ(refused("", kWeight + kBirth + kLitter), "");  // the order in the file does not matter
}

TEST(Admit, AnIdIsUsedOnce) {
  const std::string other = line(3, "2026-03-02T08:00:00+01:00", R"("kind":"weight","about":"1","grams":431)");
  const std::string in_journal = refused(kLitter + kBirth + kWeight, kLitter + other);
  EXPECT_NE(in_journal.find("ID_CONFLICT line 2: weight of 1 of 2026-03-02T08:00:00+01:00 has the id " + id(3) +
                            ", already used by an entry of the journal"),
            std::string::npos)
      << in_journal;
  const std::string in_file = refused("", kLitter + kBirth + kWeight + other);
  EXPECT_NE(in_file.find("ID_CONFLICT line 4: weight of 1 of 2026-03-02T08:00:00+01:00 has the id " + id(3) +
                         ", already used by line 3"),
            std::string::npos)
      << in_file;
}

TEST(Admit, ZonesMustExist) {
  const std::string wrong =
      refused("", line(1, "2026-02-01T12:00:00+01:00", R"("kind":"litter","zone":"Europe/Berln")") + kBirth);
  EXPECT_NE(wrong.find("ZONE_UNKNOWN line 1: there is no time zone \"Europe/Berln\""), std::string::npos) << wrong;
}

TEST(Admit, WhatHasNoPlaceIsRefusedWithItsLine) {
  const std::string never = refused("", kLitter + kWeight);
  EXPECT_NE(never.find("MISFITS line 2: there is no pup \"1\""), std::string::npos) << never;
  EXPECT_NE(never.find("[NEVER_BORN]"), std::string::npos);
  const std::string early = refused(
      "", kLitter + kBirth + line(3, "2026-03-01T01:00:00+01:00", R"("kind":"weight","about":"1","grams":430)"));
  EXPECT_NE(early.find("line 3: dated before pup \"1\" was born"), std::string::npos) << early;
  const std::string twice =
      refused(kLitter + kBirth, line(9, "2026-03-01T03:00:00+01:00", R"("kind":"birth","about":"1")"));
  EXPECT_NE(twice.find("[BORN_TWICE]"), std::string::npos) << twice;
  // The strike of a birth would leave a weight that is already kept without its pup.
  const std::string strike = refused(
      kLitter + kBirth + kWeight, line(9, "2026-03-03T03:00:00+01:00", R"("kind":"strike","strike":")" + id(2) + "\""));
  EXPECT_NE(strike.find("an entry already kept: there is no pup"), std::string::npos) << strike;
}

TEST(Admit, OnlyNewMisfitsCount) {
  // A journal that has a misfit can still take in more, and itself.
  EXPECT_EQ(refused(kLitter + kWeight, kLitter + line(9, "2026-03-03T03:00:00+01:00", R"("kind":"note","note":"x")")),
            "");
  EXPECT_EQ(refused(kLitter + kWeight, kLitter + kWeight), "");
}

TEST(Admit, MisfitsCanBeKeptOnPurpose) {
  const auto a = join("", kLitter + kWeight, Misfits::keep);
  ASSERT_TRUE(a);
  ASSERT_EQ(a->misfits.size(), 1u);
  EXPECT_EQ(a->misfits[0].code, "NEVER_BORN");
}

TEST(Admit, ManyMisfitsAreSummedUp) {
  std::string file = kLitter;
  for (int i = 10; i < 40; ++i)
    file += line(i, "2026-03-02T08:00:00+01:00", R"("kind":"weight","about":"7","grams":430)");
  const std::string many = refused("", file);
  EXPECT_NE(many.find("line 11:"), std::string::npos);
  EXPECT_EQ(many.find("line 12:"), std::string::npos);
  EXPECT_NE(many.find("... and 20 more"), std::string::npos);
}

}  // namespace
}  // namespace lampside::exchange
