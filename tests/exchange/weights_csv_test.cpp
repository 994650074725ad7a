// Sheets of weights: what keepers' spreadsheets hold, and what must be refused.
#include "exchange/weights_csv.hpp"

#include <gtest/gtest.h>

#include <sstream>

#include "exchange/words.hpp"
#include "zone/zone.hpp"

namespace lampside::exchange {
namespace {

using namespace std::chrono;

/// An invented litter: "1" red, "2" blue, born on 1 March 2026 at 02:14 and 02:50; "3" green after midnight the next
/// day.
record::Litter litter(const std::string& unit = "g") {
  std::vector<record::Entry> entries;
  int n = 0;
  const auto add = [&](const std::string& at, const std::string& rest) {
    const std::string line = R"({"id":"00000000-0000-4000-8000-0000000000)" + std::to_string(10 + n++) +
                             R"(","litter":"test","at":")" + at + R"(","written":")" + at + R"(","by":"test",)" + rest +
                             "}";
    auto e = record::decode_line(line);
    if (!e)
      ADD_FAILURE() << to_text(e.error());
    else
      entries.push_back(*e);
  };
  add("2026-02-01T12:00:00+01:00",
      R"("kind":"litter","zone":"Europe/Berlin","dam":{"name":"Juniper"},"units":{"weight":")" + unit + R"("})");
  add("2026-03-01T02:14:00+01:00", R"("kind":"birth","about":"1","collar":"Red","grams":412)");
  add("2026-03-01T02:50:00+01:00", R"("kind":"birth","about":"2","collar":"Grün")");
  add("2026-03-02T00:10:00+01:00", R"("kind":"birth","about":"3","collar":"Blue","grams":390)");
  return record::fold(entries, "test", zone::load("Europe/Berlin").value());
}

struct Taken {
  std::vector<std::string> rows;  ///< "1 2026-03-02T08:00:00+01:00 430 430 g"
  std::string code, what;
  WeightsRead read;
};
Taken take(const std::string& csv, const WeightsOptions& options = {}, const record::Litter& into = litter()) {
  std::istringstream in{csv};
  auto read = read_weights_csv(in, into, options);
  Taken out;
  if (!read) {
    out.code = read.error().code;
    out.what = read.error().what + " - " + read.error().todo;
    return out;
  }
  for (const auto& e : read->taken.entries) {
    std::string row = e.about + " " + to_iso(e.at);
    if (const auto* w = record::body_as<record::Weight>(e))
      row += " " + say_number(w->grams.count(), 2) + " " + w->as_read.value_or("");
    if (const auto* b = record::body_as<record::Birth>(e))
      row += b->grams ? " born " + say_number(b->grams->count(), 2) : " born";
    out.rows.push_back(row);
  }
  out.read = std::move(*read);
  return out;
}
using Rows = std::vector<std::string>;

TEST(WeightsCsv, WideByDate) {
  const Taken t = take("date,Red,2,BLUE\n2026-03-03,450,401 g,\n2026-03-04,470,-,420\n");
  EXPECT_EQ(t.code, "");
  EXPECT_EQ(t.rows, (Rows{"1 2026-03-03T08:00:00+01:00 450 450 g", "2 2026-03-03T08:00:00+01:00 401 401 g",
                          "1 2026-03-04T08:00:00+01:00 470 470 g", "3 2026-03-04T08:00:00+01:00 420 420 g"}));
  EXPECT_EQ(t.read.empty_cells, 2u);
  EXPECT_EQ(t.read.taken.lines, (std::vector<std::size_t>{2, 2, 3, 3}));
}

TEST(WeightsCsv, LongWithTimeOuncesAndNotes) {
  const Taken t = take(
      "Day;Time;Pup;Weight (oz);Notes;Vet\n3.3.2026;20:15;red;14 "
      "3/8;sleepy;x\n3.3.2026;20:20;GRÜN;14,5;;\n4.3.2026;;1;1 lb 2 oz;;\n");
  EXPECT_EQ(t.code, "");
  EXPECT_EQ(t.rows, (Rows{"1 2026-03-03T20:15:00+01:00 407.52 14 3/8 oz", "2 2026-03-03T20:20:00+01:00 411.07 14,5 oz",
                          "1 2026-03-04T08:00:00+01:00 510.29 1 lb 2 oz"}));
  EXPECT_EQ(t.read.taken.entries[0].note, "sleepy");
  EXPECT_NE(t.read.understood.back().find("not taken in"), std::string::npos);
}

TEST(WeightsCsv, UnitsFromHeadingCellOptionOrLitter) {
  EXPECT_EQ(take("date,Red (oz)\n2026-03-03,14\n").rows[0], "1 2026-03-03T08:00:00+01:00 396.89 14 oz");
  EXPECT_EQ(take("date,Red [kg]\n2026-03-03,0.45\n").rows[0], "1 2026-03-03T08:00:00+01:00 450 0.45 kg");
  EXPECT_EQ(take("date,Red lb\n2026-03-03,1\n").rows[0], "1 2026-03-03T08:00:00+01:00 453.59 1 lb");
  EXPECT_EQ(take("date,Red\n2026-03-03,14 oz\n").rows[0], "1 2026-03-03T08:00:00+01:00 396.89 14 oz");
  WeightsOptions ounces;
  ounces.unit = WeightUnit::ounces;
  EXPECT_EQ(take("date,Red,Blue (g)\n2026-03-03,14,400\n", ounces).rows,
            (Rows{"1 2026-03-03T08:00:00+01:00 396.89 14 oz", "3 2026-03-03T08:00:00+01:00 400 400 g"}));
  EXPECT_EQ(take("date,Red\n2026-03-03,14\n", {}, litter("oz")).rows[0], "1 2026-03-03T08:00:00+01:00 396.89 14 oz");
  EXPECT_EQ(take("date,pup,oz\n2026-03-03,red,14\n").rows[0], "1 2026-03-03T08:00:00+01:00 396.89 14 oz");
  // Ounces read as grams are no pup's weight: refused with the line, never taken.
  EXPECT_EQ(take("date,Red\n2026-03-03,14\n").code, "ENTRY_IMPLAUSIBLE");
}

TEST(WeightsCsv, DecimalComma) {
  EXPECT_EQ(take("date;Red\n2026-03-03;412,5\n").rows[0], "1 2026-03-03T08:00:00+01:00 412.5 412,5 g");
  EXPECT_EQ(take("date\tRed\n2026-03-03\t412,5\n").rows[0], "1 2026-03-03T08:00:00+01:00 412.5 412,5 g");
  EXPECT_EQ(take("date,Red\n2026-03-03,\"412,5\"\n").rows[0], "1 2026-03-03T08:00:00+01:00 412.5 412,5 g");
  EXPECT_EQ(take("date,Red\n2026-03-03,412,5\n").code, "CSV_CELLS");
}

TEST(WeightsCsv, DayNumbersCountFromTheBirth) {
  const Taken t = take("day,Red,Blue\n0,412,391\n1,420,395\n10,800,790\n");
  // Day 0: red's birth weight is already recorded; blue (born after midnight) has another birth weight, so this is a
  // weighing after it.
  EXPECT_EQ(t.rows, (Rows{"3 2026-03-02T00:10:00+01:00 391 391 g", "1 2026-03-02T08:00:00+01:00 420 420 g",
                          "3 2026-03-02T08:00:00+01:00 395 395 g", "1 2026-03-11T08:00:00+01:00 800 800 g",
                          "3 2026-03-11T08:00:00+01:00 790 790 g"}));
  EXPECT_EQ(t.read.birth_weights, 1u);
}

TEST(WeightsCsv, DayOfBirthWithoutATimeIsTheBirth) {
  // Green has no birth weight recorded: the sheet's figure of that day is dated at the birth.
  const Taken t = take("date,Grün\n2026-03-01,401\n");
  EXPECT_EQ(t.rows, (Rows{"2 2026-03-01T02:50:00+01:00 born 401"})) << "its birth, corrected";
  EXPECT_EQ(t.read.taken.entries.at(0).corrects, litter().pup("2")->birth.id);
  // With a time it is what it says, also when that lies before the birth: admit() refuses it then.
  EXPECT_EQ(take("date,time,Grün\n2026-03-01,01:00,401\n").rows[0], "2 2026-03-01T01:00:00+01:00 401 401 g");
}

TEST(WeightsCsv, OneRowAPupIsReadWithRowsAndColumnsExchanged) {
  const Rows same = take("day,1,2\n1,430,425\n2,470,460\n").rows;
  EXPECT_EQ(take("Pup,1,2\n1,430,470\n2,425,460\n").rows, same);
  EXPECT_EQ(take("Collar;Day 1;Day 2\nRed;430;470\nGrün;425;460\n").rows, same);
  EXPECT_EQ(take("pup,2026-03-02,2026-03-03\n1,430,470\n2,425,460\n").rows, same);
  EXPECT_EQ(take("Pup,1,2\n1,430,470\n2,425,460\n").read.understood.at(0),
            "one row a pup, one column a day: read with rows and columns exchanged");
  EXPECT_EQ(take("Pup,1,2\n1,430,470\n9,425,460\n").code, "PUP_UNKNOWN");
  EXPECT_EQ(take("Pup,1,2,Note\n1,430,470,fat\n2,425,460,\n").code, "CSV_HEADING") << "not taken for pups and days";
}

TEST(WeightsCsv, DayOneIsTheDayAfterAlsoForAPupBornPastMidnight) {
  // Blue came at 00:10 on the day after the first birth, with 390 g: that it gained nothing must not be swallowed.
  EXPECT_EQ(take("day,Blue\n1,390\n").rows, (Rows{"3 2026-03-02T08:00:00+01:00 390 390 g"}));
}

TEST(WeightsCsv, TheNewestMayStandFirst) {
  WeightsOptions options;
  options.born = sys_days{2026y / 3 / 1} + hours{1} + minutes{30};
  const Rows same = take("date,Pup 4\n2026-03-01,410\n2026-03-02,400\n2026-03-03,380\n", options).rows;
  EXPECT_EQ(same.at(0), "4 2026-03-01T02:30:00+01:00 born 410");
  EXPECT_EQ(take("date,Pup 4\n2026-03-03,380\n2026-03-02,400\n2026-03-01,410\n", options).rows, same);
}

TEST(WeightsCsv, ABareFigureIsNoDamsWeight) {
  const Taken t = take("date,dam\n2026-03-03,28.5\n");
  EXPECT_EQ(t.code, "DAM_WEIGHT");
  EXPECT_NE(t.what.find("dam (kg)"), std::string::npos) << t.what;
  EXPECT_EQ(take("date,dam\n2026-03-03,28.5 kg\n").rows[0], "dam 2026-03-03T08:00:00+01:00 28500 28.5 kg");
}

TEST(WeightsCsv, ClocksGoForward) {
  // 29 March 2026 has no 02:30 in Berlin: the moment the gap ends.
  EXPECT_EQ(take("date,time,Red\n2026-03-29,02:30,1900\n").rows[0], "1 2026-03-29T03:00:00+02:00 1900 1900 g");
}

TEST(WeightsCsv, PupsNotKnown) {
  const Taken wide = take("date,Red,Purple\n2026-03-03,450,400\n");
  EXPECT_EQ(wide.code, "PUP_UNKNOWN");
  EXPECT_NE(wide.what.find("line 1: there is no pup \"Purple\"; those born are 1 (Red), 2 (Grün), 3 (Blue)"),
            std::string::npos)
      << wide.what;
  const Taken lng = take("date,pup,weight\n2026-03-03,red,450\n2026-03-03,purple,450\n");
  EXPECT_EQ(lng.code, "PUP_UNKNOWN");
  EXPECT_NE(lng.what.find("line 3:"), std::string::npos);
  EXPECT_NE(lng.what.find("--born"), std::string::npos);
}

TEST(WeightsCsv, BirthsCanBeTakenInToo) {
  WeightsOptions options;
  options.born = sys_days{2026y / 3 / 1} + hours{1} + minutes{30};
  const Taken t = take("day,Red,Pup 4,Purple\n0,412,388,\n2,450,400,395\n", options);
  EXPECT_EQ(t.code, "") << t.what;
  EXPECT_EQ(t.rows, (Rows{"4 2026-03-01T02:30:00+01:00 born 388", "1 2026-03-03T08:00:00+01:00 450 450 g",
                          "4 2026-03-03T08:00:00+01:00 400 400 g", "Purple 2026-03-01T02:30:00+01:00 born",
                          "Purple 2026-03-03T08:00:00+01:00 395 395 g"}));
  EXPECT_EQ(t.read.born, (Rows{"4", "Purple"}));
}

TEST(WeightsCsv, NumbersUnderDateAreNotGuessed) {
  EXPECT_EQ(take("date,Red\n13,450\n").code, "DATE_FORMAT");
  EXPECT_EQ(take("Day,Red\n13,450\n").rows[0], "1 2026-03-14T08:00:00+01:00 450 450 g");
}

TEST(WeightsCsv, DamByNameOrWord) {
  EXPECT_EQ(take("date,juniper (kg)\n2026-03-03,31.5\n").rows[0], "dam 2026-03-03T08:00:00+01:00 31500 31.5 kg");
  EXPECT_EQ(take("date,Dam (kg)\n2026-03-03,31.5\n").rows[0], "dam 2026-03-03T08:00:00+01:00 31500 31.5 kg");
}

TEST(WeightsCsv, LettersThatAreUnitsCanBePups) {
  std::vector<record::Entry> entries;
  auto into = litter();
  into.pups[0].label = "G";
  into.pups[1].label = "Big g";
  EXPECT_EQ(take("date,G,Big g\n2026-03-03,450,400\n", {}, into).rows,
            (Rows{"G 2026-03-03T08:00:00+01:00 450 450 g", "Big g 2026-03-03T08:00:00+01:00 400 400 g"}));
  EXPECT_EQ(take("date,pup g\n2026-03-03,450\n", {}, into).rows[0], "G 2026-03-03T08:00:00+01:00 450 450 g");
}

TEST(WeightsCsv, TwoFiguresForOneTime) {
  const Taken t = take("date,pup,weight\n2026-03-03,red,450\n2026-03-03,1,460\n");
  EXPECT_EQ(t.code, "TWICE");
  EXPECT_NE(t.what.find("line 3: pup 1 has another weight for this time on line 2"), std::string::npos) << t.what;
  EXPECT_EQ(take("date,pup,weight\n2026-03-03,red,450\n2026-03-03,1,450\n").rows.size(), 1u);
  EXPECT_EQ(take("date,Red,1\n2026-03-03,450,450\n").code, "CSV_HEADING");
}

TEST(WeightsCsv, Headings) {
  EXPECT_EQ(take("2026-03-03,450\n2026-03-04,460\n").code, "CSV_HEADING");
  EXPECT_EQ(take("Red,Blue\n450,460\n").code, "DATE_RANGE");  // 450 is no age of a pup
  EXPECT_EQ(take("pup,weight\nred,450\n").code, "CSV_HEADING");
  EXPECT_EQ(take("date\n2026-03-03\n").code, "CSV_HEADING");
  EXPECT_EQ(take("date,weight\n2026-03-03,450\n").code, "CSV_HEADING");
  EXPECT_EQ(take("date,Red,\n2026-03-03,450,12\n").code, "CSV_HEADING");
  EXPECT_EQ(take("date,Red,\n2026-03-03,450,\n").code, "");
  EXPECT_EQ(take("date,pup,weight,weight\n2026-03-03,red,450,460\n").code, "CSV_HEADING");
}

TEST(WeightsCsv, FiguresThatAreNone) {
  for (const char* cell : {"heavy", "-450", "4.5.0", "450 stone", "1,234.5", "NaN", "0x1C2"}) {
    const Taken t = take(std::string("date;Red\n2026-03-03;") + cell + "\n");
    EXPECT_NE(t.code, "") << cell;
    EXPECT_NE(t.what.find("line 2: column \"Red\""), std::string::npos) << t.what;
  }
}

TEST(WeightsCsv, ACollarThatIsAnothersLabel) {
  auto into = litter();
  into.pups[1].birth.what.collar = "1";
  EXPECT_EQ(take("date,1\n2026-03-03,450\n", {}, into).code, "PUP_AMBIGUOUS");
}

TEST(WeightsCsv, TakenInTwiceIsTheSameEntries) {
  const std::string sheet = "date,Red,Blue\n2026-03-03,450,401\n2026-03-04,470,420\n";
  EXPECT_EQ(take(sheet).read.taken.entries, take(sheet).read.taken.entries);
  // A changed figure keeps its id, so the journal sees a conflict and not a second weight.
  const auto changed = take("date,Red\n2026-03-03,455\n").read.taken.entries[0];
  const auto first = take(sheet).read.taken.entries[0];
  EXPECT_EQ(changed.id, first.id);
  EXPECT_FALSE(changed == first);
  // The order of rows and columns, the separator and the spelling of the pup do not matter.
  const auto other = take("date;blue;red\n2026-03-04;420;470\n2026-03-03;401;450\n").read.taken.entries;
  auto want = take(sheet).read.taken.entries;
  EXPECT_TRUE(std::is_permutation(want.begin(), want.end(), other.begin(), other.end()));
}

TEST(WeightsCsv, TheDryRunSaysWhatItUnderstood) {
  const auto read = take("date,Red (oz),Blue,Note\n1/3/2026,14.5,400,calm\n13/3/2026,30,800,\n").read;
  EXPECT_EQ(read.understood,
            (Rows{"cells separated by \",\"; one column a pup",
                  "column 1 \"date\": dates, day first (line 3: 13/3/2026); without a time: 08:00",
                  "column 2 \"Red (oz)\": weights of pup 1 in oz (the heading says so)",
                  "column 3 \"Blue\": weights of pup 3 in g where the cell names no unit (the litter's unit)",
                  "column 4 \"Note\": note"}));
  EXPECT_EQ(read.rows.size(), 2u);
}

TEST(Words, FoldingIsForLatinLetters) {
  EXPECT_EQ(folded("  GRÜN\xC2\xA0"), "grün");
  EXPECT_EQ(folded("ÀÞ×ß"), "àþ×ß");
}

}  // namespace
}  // namespace lampside::exchange
