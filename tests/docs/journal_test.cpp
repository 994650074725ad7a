// docs/journal.md against the codec: its examples are taken in, and it names every field with its limits.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>
#include <iomanip>
#include <map>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>

#include "record/litter.hpp"

namespace {

using namespace lampside;
using record::Json;

std::string read(const std::string& name) {
  std::ifstream in(std::string(LAMPSIDE_SOURCE_DIR) + "/" + name);
  std::stringstream text;
  text << in.rdbuf();
  return text.str();
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> out;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) out.push_back(line);
  return out;
}

/// The text under each "### kind" of docs/journal.md.
std::map<std::string, std::string> chapters() {
  std::map<std::string, std::string> out;
  std::string kind;
  for (const auto& line : lines_of(read("docs/journal.md"))) {
    if (line.starts_with("### ")) kind = line.substr(4);
    if (line.starts_with("## ")) kind.clear();
    if (!kind.empty()) out[kind] += line + "\n";
  }
  return out;
}

std::vector<std::string> examples(const std::string& chapter) {
  std::vector<std::string> out;
  for (const auto& line : lines_of(chapter))
    if (line.starts_with("{")) out.push_back(line);
  return out;
}

/// kind -> its part of the schema.
std::map<std::string, Json> schema_by_kind() {
  std::map<std::string, Json> out;
  const Json schema = record::schema();
  for (const auto& rule : schema.at("allOf"))
    out[rule.at("if").at("properties").at("kind").at("const").get<std::string>()] = rule.at("then");
  EXPECT_GT(out.size(), 20u);  // none would let every test below pass
  return out;
}

TEST(JournalPage, ShowsEveryKindAndNoOther) {
  std::set<std::string> documented, known;
  for (const auto& [kind, text] : chapters()) documented.insert(kind);
  for (const auto& [kind, rule] : schema_by_kind()) known.insert(kind);
  EXPECT_EQ(documented, known);
}

TEST(JournalPage, EveryExampleIsTakenInWholeAndComesOutTheSame) {
  std::vector<record::Entry> all;
  for (const auto& [kind, text] : chapters()) {
    const auto lines = examples(text);
    EXPECT_FALSE(lines.empty()) << kind << " has no example";
    for (const auto& line : lines) {
      const auto entry = record::decode_line(line);
      ASSERT_TRUE(entry) << kind << ": " << to_text(entry.error());
      EXPECT_EQ(entry->kind, kind);
      EXPECT_TRUE(entry->extra.empty()) << kind << ": not understood: " << entry->extra.json().dump();
      auto again = record::encode(*entry);
      auto want = Json::parse(line);
      if (!want.contains("written")) want["written"] = want["at"];
      EXPECT_EQ(again, want);
      all.push_back(*entry);
    }
  }
  std::set<std::string> ids;
  for (const auto& e : all) EXPECT_TRUE(ids.insert(e.id).second) << "id used twice: " << e.id;
}

TEST(JournalPage, NamesEveryFieldOfEveryKindAndMarksThoseThatMustBeThere) {
  const auto pages = chapters();
  for (const auto& [kind, rule] : schema_by_kind()) {
    const auto page = pages.find(kind);
    ASSERT_NE(page, pages.end()) << kind;
    for (const auto& [name, field] : rule["properties"].items())
      EXPECT_THAT(page->second, testing::HasSubstr("`" + name + "`")) << kind;
    for (const auto& name : rule.value("required", Json::array()))
      EXPECT_THAT(page->second, testing::HasSubstr("**`" + name.get<std::string>() + "`**")) << kind;
  }
}

TEST(JournalPage, NamesEveryWordAFieldMayHold) {
  const auto pages = chapters();
  int words = 0;
  for (const auto& [kind, rule] : schema_by_kind())
    for (const auto& [name, field] : rule["properties"].items())
      for (const auto& word : field.value("enum", Json::array())) {
        EXPECT_THAT(pages.at(kind), testing::HasSubstr(word.get<std::string>())) << kind << "." << name;
        ++words;
      }
  EXPECT_GT(words, 20);
}

TEST(JournalPage, GivesTheLimitsOfEveryNumber) {
  const auto say = [](const Json& number) {
    std::ostringstream out;
    out << std::setprecision(12) << number.get<double>();
    return out.str();
  };
  const auto pages = chapters();
  int numbers = 0;
  for (const auto& [kind, rule] : schema_by_kind()) {
    if (kind == "newborn_score") continue;  // "each 0, 1 or 2"
    for (const auto& [name, field] : rule["properties"].items()) {
      if (!field.contains("maximum")) continue;
      EXPECT_THAT(pages.at(kind), testing::HasSubstr(say(field["maximum"]))) << kind << "." << name;
      EXPECT_THAT(pages.at(kind), testing::HasSubstr(say(field["minimum"]))) << kind << "." << name;
      ++numbers;
    }
  }
  EXPECT_GT(numbers, 15);
}

TEST(Demo, IsReadWholeAndFoldsWithoutAMisfit) {
  std::vector<record::Entry> all;
  int number = 0;
  for (const auto& line : lines_of(read("demo/juniper.jsonl"))) {
    ++number;
    const auto entry = record::decode_line(line);
    ASSERT_TRUE(entry) << "line " << number << ": " << to_text(entry.error());
    EXPECT_TRUE(entry->extra.empty()) << "line " << number << ": " << entry->extra.json().dump();
    EXPECT_EQ(record::encode(*entry), Json::parse(line)) << "line " << number;
    all.push_back(*entry);
  }
  const auto litter = record::fold(all, "juniper-2026", Zone{});
  EXPECT_GE(all.size(), 900u);
  EXPECT_EQ(litter.pups.size(), 11u);
  for (const auto& misfit : litter.misfits) ADD_FAILURE() << misfit.code << ": " << misfit.why;
  // The story a visitor is told: one stillborn, two gone at eight weeks, the smallest has caught up.
  int in_box = 0;
  for (const auto& pup : litter.pups) in_box += pup.in_box();
  EXPECT_EQ(in_box, 8);
  const auto* small = litter.pup("9");
  ASSERT_NE(small, nullptr);
  const double born = small->weights.front().what.grams.count();
  double least = born;
  for (const auto& w : small->weights) least = std::min(least, w.what.grams.count());
  EXPECT_LE(least / born, 0.95);
  EXPECT_GT(small->weights.back().what.grams / small->weights.front().what.grams, 10);
}

TEST(Demo, ItsMomentIsATimeWithinTheStory) {
  const auto lines = lines_of(read("demo/moment.txt"));
  ASSERT_EQ(lines.size(), 1u);
  const auto moment = parse_stamp(lines[0]);
  ASSERT_TRUE(moment) << to_text(moment.error());
  std::size_t before = 0, after = 0;
  for (const auto& line : lines_of(read("demo/juniper.jsonl")))
    (record::decode_line(line)->at.instant <= moment->instant ? before : after)++;
  EXPECT_GT(before, 100u);
  EXPECT_GT(after, 100u);
}

}  // namespace
