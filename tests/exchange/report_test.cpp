// An assessment outside: the JSON against its published schema, the text against its width.
#include "exchange/report.hpp"

#include <fstream>
#include <nlohmann/json.hpp>
#include <valijson/adapters/nlohmann_json_adapter.hpp>
#include <valijson/schema.hpp>
#include <valijson/schema_parser.hpp>
#include <valijson/validation_results.hpp>
#include <valijson/validator.hpp>

#include "exchange/words.hpp"
#include "journal.hpp"
#include "reference/tables.hpp"

namespace lampside::exchange {
namespace {

using record::Json;

class Schema {
 public:
  Schema() {
    std::ifstream file{LAMPSIDE_SOURCE_DIR "/docs/assessment.schema.json"};
    document_ = Json::parse(file);
    valijson::SchemaParser{}.populateSchema(valijson::adapters::NlohmannJsonAdapter{document_}, schema_);
  }
  /// What is wrong with the document; empty when nothing is.
  std::string problems(const Json& json) {
    valijson::Validator validator;
    valijson::ValidationResults results;
    validator.validate(schema_, valijson::adapters::NlohmannJsonAdapter{json}, &results);
    std::string out;
    valijson::ValidationResults::Error error;
    while (results.popError(error)) {
      for (const auto& part : error.context) out += part;
      out += ": " + error.description + "\n";
    }
    return out;
  }
  /// Every property the schema names under that definition.
  Json names(const std::string& definition) const { return document_["definitions"][definition]["properties"]; }

 private:
  Json document_;
  valijson::Schema schema_;
};

struct Assessed {
  record::Litter litter;
  advice::Assessment assessment;
};
Assessed assessed(const std::string& journal, const std::string& at) {
  const auto all = must_read(journal).entries;
  const Instant now = parse_stamp(at)->instant;
  auto litter = record::fold(record::known_at(all, now), "test", zone::load(record::zone_name(all, "test")).value());
  auto assessment = advice::assess(litter, reference::built_in(), now);
  return {std::move(litter), std::move(assessment)};
}

/// A short invented litter with something to say in every part.
std::string story() {
  std::string j;
  j += line(
      1, "2026-01-01T12:00:00+01:00",
      R"("kind":"litter","zone":"Europe/Berlin","dam":{"name":"Juniper","breed":"Golden Retriever","kg":30},"scale_g":2)");
  j += line(2, "2025-12-28T12:00:00+01:00", R"("kind":"ovulation")");
  j += line(3, "2026-02-25T09:00:00+01:00", R"("kind":"pup_count","method":"xray","pups":4)");
  j += line(4, "2026-02-28T08:00:00+01:00", R"("kind":"temperature","about":"dam","celsius":37.9)");
  j += line(5, "2026-02-28T20:00:00+01:00", R"("kind":"temperature","about":"dam","celsius":36.6)");
  j += line(6, "2026-03-01T01:30:00+01:00", R"("kind":"sign","sign":"strong_straining","about":"dam")");
  j += line(7, "2026-03-01T02:14:00+01:00", R"("kind":"birth","about":"1","collar":"red","grams":412)");
  j += line(8, "2026-03-01T02:50:00+01:00", R"("kind":"birth","about":"2","collar":"grün","grams":230)");
  j += line(9, "2026-03-01T03:30:00+01:00", R"("kind":"birth","about":"3","collar":"blue","alive":false)");
  j += line(10, "2026-03-01T09:00:00+01:00", R"("kind":"air","celsius":22,"where":"under_lamp","humidity":60)");
  j += line(11, "2026-03-02T08:00:00+01:00", R"("kind":"weight","about":"1","grams":430)");
  j += line(12, "2026-03-02T08:01:00+01:00", R"("kind":"weight","about":"2","grams":201)");
  j += line(13, "2026-03-03T08:00:00+01:00", R"("kind":"weight","about":"1","grams":460)");
  j += line(14, "2026-03-03T08:00:00+01:00", R"("kind":"departure","about":"1")");
  return j;
}
const std::vector<std::string> kMoments{"2025-12-01T12:00:00Z", "2026-02-20T12:00:00Z", "2026-02-28T21:00:00Z",
                                        "2026-03-01T01:20:00Z", "2026-03-01T02:00:00Z", "2026-03-01T06:00:00Z",
                                        "2026-03-02T07:30:00Z", "2026-03-03T09:00:00Z", "2026-06-01T00:00:00Z"};

TEST(ReportJson, HoldsToItsSchemaAtEveryMoment) {
  Schema schema;
  std::size_t due = 0, pups = 0, findings = 0;
  for (const auto& at : kMoments) {
    const auto [litter, assessment] = assessed(story(), at);
    const Json json = to_json(assessment, litter);
    EXPECT_EQ(schema.problems(json), "") << at << "\n" << json.dump(1);
    due += json["due"].contains("p50") ? 1U : 0U;
    pups += json["pups"].size();
    findings += json["findings"].size();
  }
  // The moments do reach each part.
  EXPECT_GT(due, 0u);
  EXPECT_GT(pups, 0u);
  EXPECT_GT(findings, 0u);
}

TEST(ReportJson, TheSchemaCanSayNo) {
  Schema schema;
  const auto [litter, assessment] = assessed(story(), "2026-03-02T07:30:00Z");
  const Json good = to_json(assessment, litter);
  ASSERT_EQ(schema.problems(good), "");
  ASSERT_FALSE(good["findings"].empty());
  ASSERT_FALSE(good["pups"].empty());
  const auto spoilt = [&](auto spoil) {
    Json bad = good;
    spoil(bad);
    return schema.problems(bad);
  };
  EXPECT_NE(spoilt([](Json& j) { j.erase("doubts"); }), "");
  EXPECT_NE(spoilt([](Json& j) { j["at"] = "2026-03-02 07:30"; }), "");
  EXPECT_NE(spoilt([](Json& j) { j["pups"][0]["grams"] = "430 g"; }), "");
  EXPECT_NE(spoilt([](Json& j) { j["pups"][0].erase("forecast"); }), "");
  EXPECT_NE(spoilt([](Json& j) {
              j["pups"][0]["chance_slow"] = 1.2;
              j["pups"][0]["birth_class"] = "tiny";
            }),
            "");
  EXPECT_NE(spoilt([](Json& j) { j["findings"][0]["level"] = "red"; }), "");
  EXPECT_NE(spoilt([](Json& j) { j["findings"][0]["source"].erase("work"); }), "");
  EXPECT_NE(spoilt([](Json& j) { j["supplies"] = {{"not_assessed", "NO_MODEL"}}; }), "");
  EXPECT_NE(spoilt([](Json& j) { j["care"][0]["state"] = "soon"; }), "");
  EXPECT_NE(spoilt([](Json& j) { j["care"][0].erase("best"); }), "");
  EXPECT_NE(spoilt([](Json& j) { j["extra"] = 1; }), "");
}

TEST(ReportJson, ADosingRoundSaysHowMuchOrWhyNot) {
  Schema schema;
  const std::string label =
      R"("kind":"product","name":"worm suspension","active":"pyrantel","strength":"4.54 mg/ml","dose":"5 mg/kg","mark_ml":0.1)";
  const auto [litter, assessment] = assessed(story() + line(99, "2026-03-01T12:00:00Z", label), "2026-03-02T07:30:00Z");
  const Json json = to_json(assessment, litter);
  EXPECT_EQ(schema.problems(json), "");
  ASSERT_EQ(json["dosing"].size(), 1u);
  const auto& first = json["dosing"][0]["dogs"][0];
  EXPECT_EQ(first["about"], "1");
  EXPECT_EQ(first["refused"][0]["not_assessed"], "UNDER_AGE");
  EXPECT_FALSE(first.contains("give"));
}

TEST(ReportJson, FiguresAreTheAssessments) {
  const auto [litter, assessment] = assessed(story(), "2026-03-02T07:30:00Z");
  const Json json = to_json(assessment, litter);
  EXPECT_EQ(json["at"], "2026-03-02T08:30:00+01:00");
  EXPECT_EQ(json["litter"], "test");
  EXPECT_EQ(json["whelping"]["born"], 3);
  EXPECT_EQ(json["whelping"]["alive"], 2);
  EXPECT_EQ(json["pups"][0]["label"], "1");
  EXPECT_EQ(json["pups"][0]["grams"], 430.0);
  EXPECT_EQ(json["pups"][0]["weighed"], "2026-03-02T08:00:00+01:00");
  // 18 g in 29 h 46 min, worked out by hand: 18 * 24 / 29.7667.
  EXPECT_NEAR(json["pups"][0]["gain_g_day"].get<double>(), 14.51, 0.01);
  EXPECT_EQ(json["pups"][1]["collar"], "grün");
  EXPECT_EQ(json["pups"][2]["grams"]["not_assessed"].get<std::string>().empty(), false);
  EXPECT_EQ(json["homes"]["why"], "no family is waiting for a pup");
  ASSERT_EQ(json["supplies"].size(), assessment.supplies.lines.size());
  for (std::size_t i = 0; i < assessment.supplies.lines.size(); ++i) {
    EXPECT_EQ(json["supplies"][i]["item"], assessment.supplies.lines[i].item);
    EXPECT_NEAR(json["supplies"][i]["lacking"].get<double>(), assessment.supplies.lines[i].lacking.count(), 1e-4);
  }
  for (std::size_t i = 0; i < assessment.findings.size(); ++i) {
    EXPECT_EQ(json["findings"][i]["code"], assessment.findings[i].code);
    EXPECT_EQ(json["findings"][i]["do"], assessment.findings[i].do_now);
    EXPECT_EQ(json["findings"][i]["source"]["locator"], assessment.findings[i].source.locator);
  }
}

std::size_t columns(const std::string& line) {
  return static_cast<std::size_t>(std::count_if(line.begin(), line.end(), [](char c) { return (c & 0xC0) != 0x80; }));
}

TEST(ReportText, NeverOver80Columns) {
  for (const auto& at : kMoments) {
    const auto [litter, assessment] = assessed(story(), at);
    std::istringstream text{to_text(assessment, litter)};
    for (std::string row; std::getline(text, row);) EXPECT_LE(columns(row), 80u) << row;
  }
  // Names as long as a journal allows.
  const std::string name(60, 'W');
  const std::string journal =
      line(1, "2026-01-01T12:00:00Z", R"("kind":"litter","dam":{"name":")" + std::string(400, 'J') + R"("})") +
      line(2, "2026-03-01T02:00:00Z",
           R"("kind":"birth","about":")" + name + R"(","collar":"orange and white","grams":100)");
  const auto [litter, assessment] = assessed(journal, "2026-03-01T03:00:00Z");
  std::istringstream text{to_text(assessment, litter)};
  for (std::string row; std::getline(text, row);) EXPECT_LE(columns(row), 80u) << row;
}

TEST(ReportText, SaysEveryFindingWorstFirstWithItsSource) {
  const auto [litter, assessment] = assessed(story(), "2026-03-02T07:30:00Z");
  ASSERT_FALSE(assessment.findings.empty());
  std::string text = to_text(assessment, litter);
  for (char& c : text)
    if (c == '\n') c = ' ';
  for (std::size_t n; (n = text.find("  ")) != std::string::npos;) text.erase(n, 1);
  std::size_t at = 0;
  for (const auto& f : assessment.findings) {
    const auto found = text.find(f.headline, at);
    ASSERT_NE(found, std::string::npos) << f.headline;
    at = found;
    EXPECT_NE(text.find(f.because, at), std::string::npos) << f.because;
    EXPECT_NE(text.find("Do: " + f.do_now, at), std::string::npos) << f.do_now;
    EXPECT_NE(text.find("[" + f.code + "]", at), std::string::npos) << f.code;
    if (!f.do_not.empty()) {
      EXPECT_NE(text.find("Do not: " + f.do_not, at), std::string::npos);
    }
  }
  EXPECT_NE(text.find("your vet's word and your law come first"), std::string::npos);
}

TEST(ReportText, ATerminalIsNotObeyingTheJournal) {
  const std::string journal =
      line(1, "2026-01-01T12:00:00Z", R"("kind":"litter","dam":{"name":"Ju\u001b[2Jniper\u009b5n"})");
  const auto [litter, assessment] = assessed(journal, "2026-03-01T03:00:00Z");
  const std::string text = to_text(assessment, litter);
  EXPECT_NE(text.find("Ju?[2Jniper?5n"), std::string::npos) << text;
  EXPECT_EQ(text.find('\x1b'), std::string::npos);
  EXPECT_EQ(harmless("a\tb\x7F\r\n\xC2\x85ü"), "a?b??\n?ü");
}

}  // namespace
}  // namespace lampside::exchange
