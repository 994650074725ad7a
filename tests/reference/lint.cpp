// The tool that checks the tables: a bad table is refused with its line, and its good twin passes.
#include <gtest/gtest.h>

#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

namespace {

namespace fs = std::filesystem;

std::string slurp(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream out;
  out << in.rdbuf();
  return out.str();
}

class Tool : public ::testing::Test {
 protected:
  struct Answer {
    int code;
    std::string errors, wrote;
  };

  fs::path folder_ = fs::temp_directory_path() / ("lampside_tables_" + std::to_string(::getpid()));
  void SetUp() override { fs::create_directories(folder_); }
  void TearDown() override { fs::remove_all(folder_); }

  fs::path put(const std::string& name, const std::string& text) const {
    std::ofstream(folder_ / name, std::ios::binary) << text;
    return folder_ / name;
  }

  Answer run(const std::string& mode, const std::vector<fs::path>& tables) const {
    const auto out = folder_ / "out", errors = folder_ / "errors";
    fs::remove(out);
    std::string command = std::string("'") + LAMPSIDE_TABULATE + "' " + mode + " '" + out.string() + "'";
    for (const auto& table : tables) command += " '" + table.string() + "'";
    const int status = std::system((command + " 2>'" + errors.string() + "'").c_str());
    return {WIFEXITED(status) ? WEXITSTATUS(status) : -1, slurp(errors), slurp(out)};
  }

  /// The good twin passes; with `from` changed to `to` the table is refused at `line` with a message holding `says`.
  void refused(const std::string& good, const std::string& from, const std::string& to, int line,
               const std::string& says) const {
    ASSERT_EQ(run("rows", {put("good.toml", good)}).code, 0)
        << "the good twin must pass: " << slurp(folder_ / "errors");
    std::string bad = good;
    const auto at = bad.find(from);
    ASSERT_NE(at, std::string::npos) << from;
    bad.replace(at, from.size(), to);
    const auto file = put("bad.toml", bad);
    const auto answer = run("rows", {file});
    EXPECT_EQ(answer.code, 1) << from << " -> " << to;
    EXPECT_NE(answer.errors.find(file.string() + ":" + std::to_string(line) + ": "), std::string::npos)
        << answer.errors;
    EXPECT_NE(answer.errors.find(says), std::string::npos) << answer.errors;
    EXPECT_TRUE(answer.wrote.empty()) << "nothing may be written when a table is refused";
  }
};

const std::string kRules = R"(row_type = "SpanRule"
array = "span_rules"

[[row]]
code = "WAITING"
level = "watch"
limit_min = 10
measures = "Minutes waited."
since = "0.1"
source = { work = "Example Manual", locator = "Table 3, p. 41", standing = "published" }
words.headline = "Waiting"
words.professional = "Waiting noted"
words.why = "It matters."
words.do_now = "Look."
words.do_not = ""

[[row]]
code = "WAITING"
level = "call_vet"
limit_min = 20
source = { work = "Example Manual", locator = "Table 3, p. 42", standing = "common_practice" }
words.headline = "Waiting long: ring"
words.do_now = "Ring."
)";

const std::string kCourse = R"(row_type = "TemperatureCourse"
array = "temperature_course"

[[row]]
before_h = 20
mean_c = 37.4
source = { work = "Example Manual", locator = "Table 1", standing = "from_memory" }
)";

TEST_F(Tool, RefusesARowWithoutASource) {
  refused(kCourse, "source = {", "sauce = {", 4, "source is missing");
  refused(kCourse, "work = \"Example Manual\", ", "", 7, "source.work is missing");
  refused(kCourse, "locator = \"Table 1\", ", "", 7, "source.locator is missing");
  refused(kCourse, ", standing = \"from_memory\"", "", 7, "source.standing is missing");
  refused(kCourse, "\"Example Manual\"", "\"  \"", 7, "source.work is empty");
}

TEST_F(Tool, RefusesAnUnknownStandingOrLevelOrSide) {
  refused(kCourse, "from_memory", "hearsay", 7, "standing 'hearsay' is not known");
  refused(kRules, "level = \"watch\"", "level = \"panic\"", 6, "level 'panic' is not known");
  refused(kRules, "limit_min = 10", "limit_min = 10\nacts = \"beside\"", 8, "acts 'beside' is not known");
}

TEST_F(Tool, RefusesMissingWords) {
  refused(kRules, "\"Waiting\"", "\"\"", 11, "words.headline is empty");
  refused(kRules, "words.professional = \"Waiting noted\"\n", "", 4, "words.professional is missing");
  refused(kRules, "words.do_now = \"Ring.\"\n", "", 17, "words.do_now is missing");
  refused(kRules, "words.do_not = \"\"\n", "", 4, "words.do_not is missing");
  refused(kRules, "measures = \"Minutes waited.\"\n", "", 4, "measures is missing");
}

TEST_F(Tool, RefusesDuplicatesAndUnsortedLimits) {
  refused(kRules, "\"call_vet\"", "\"watch\"", 17, "duplicate row for (WAITING, watch)");
  refused(kRules, "limit_min = 20", "limit_min = 9", 17, "limits of WAITING are not sorted");
  refused(kRules, "limit_min = 20", "limit_min = 10", 17, "limits of WAITING are not sorted");
  refused(kRules, "\"call_vet\"", "\"note\"", 17, "limits of WAITING are not sorted");
}

TEST_F(Tool, RefusesUnknownKeysAndWrongKinds) {
  refused(kCourse, "before_h = 20", "before_h = 20\ncolour = 1", 6, "unknown key 'colour'");
  refused(kCourse, "mean_c", "mean_k", 6, "unknown key 'mean_k'");
  refused(kCourse, "37.4", "\"37.4\"", 6, "mean_c must be a number");
  refused(kCourse, "37.4", "nan", 6, "mean_c must be a number");
  refused(kCourse, "mean_c = 37.4", "mean_c = 37.4\nmean_f = 99.3", 7, "not both");
  refused(kRules, "limit_min = 10", "limit_min = 10.5", 7, "must be a whole number");
  refused(kRules, "limit_min = 10", "limit_h = 10", 7, "unknown key 'limit_h'");
  refused(kRules, "words.why", "words.wherefore", 13, "unknown key 'words.wherefore'");
  refused(kCourse, "\"TemperatureCourse\"", "\"TemperatureCurse\"", 1, "is not known");
  refused(kCourse, "mean_c = 37.4", "mean_c = = 37.4", 6, "");
}

TEST_F(Tool, RefusesACodeInTwoTablesAndADissentWithoutARule) {
  const std::string dissent = R"(row_type = "Dissent"
array = "dissents"
[[row]]
code = "WAITING"
says = "Wait longer."
source = { work = "Other Manual", locator = "p. 1", standing = "published" }
)";
  const auto rules = put("rules.toml", kRules);
  EXPECT_EQ(run("rows", {rules, put("dissents.toml", dissent)}).code, 0) << slurp(folder_ / "errors");
  std::string lost = dissent;
  lost.replace(lost.find("WAITING"), 7, "NOWHERE");
  const auto answer = run("rows", {rules, put("dissents.toml", lost)});
  EXPECT_EQ(answer.code, 1);
  EXPECT_NE(answer.errors.find("dissents.toml:3: no rule has the code 'NOWHERE'"), std::string::npos) << answer.errors;

  std::string counts = kRules;
  counts.replace(counts.find("SpanRule"), 8, "CountRule");
  counts.replace(counts.find("span_rules"), 10, "count_rules");
  for (auto at = counts.find("limit_min"); at != std::string::npos; at = counts.find("limit_min"))
    counts.replace(at, 9, "limit");
  EXPECT_EQ(run("rows", {put("counts.toml", counts)}).code, 0) << slurp(folder_ / "errors");
  const auto twice = run("rows", {rules, put("counts.toml", counts)});
  EXPECT_EQ(twice.code, 1);
  EXPECT_NE(twice.errors.find("WAITING already stands in"), std::string::npos) << twice.errors;
}

TEST_F(Tool, SaysHowToCallIt) {
  EXPECT_EQ(run("pies", {put("good.toml", kCourse)}).code, 2);
  EXPECT_EQ(run("rows", {folder_ / "not_there.toml"}).code, 1);
}

TEST_F(Tool, WordsLeftOutComeFromTheRowAboveOfTheSameCode) {
  const auto answer = run("rows", {put("good.toml", kRules)});
  ASSERT_EQ(answer.code, 0);
  const auto second = answer.wrote.find("Waiting long: ring");
  ASSERT_NE(second, std::string::npos);
  EXPECT_NE(answer.wrote.find("It matters.", second), std::string::npos) << answer.wrote;
  EXPECT_EQ(answer.wrote.find("Look.", second), std::string::npos) << "what to do changes with the level";
}

TEST_F(Tool, TheFindingsPageIsWhatTheTablesSayNow) {
  const fs::path root = LAMPSIDE_SOURCE_DIR;
  std::vector<fs::path> tables;
  for (const auto& file : fs::directory_iterator(root / "reference"))
    if (file.path().extension() == ".toml") tables.push_back(file.path());
  std::sort(tables.begin(), tables.end());
  ASSERT_GE(tables.size(), 13U);
  const auto answer = run("findings", tables);
  ASSERT_EQ(answer.code, 0) << answer.errors;
  ASSERT_NE(answer.wrote.find("## STRONG_STRAINING"), std::string::npos);
  EXPECT_TRUE(answer.wrote == slurp(root / "docs/findings.md"))
      << "docs/findings.md is stale: build the target findings_page";
}

}  // namespace
