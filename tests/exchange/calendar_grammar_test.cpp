// The calendar against the grammar of RFC 5545, written down here once more and by itself: what libical lets pass is
// still looked at. Section numbers stand beside each rule.
#include <gtest/gtest.h>

#include <map>
#include <regex>
#include <string>
#include <vector>

#include "../advice/story.hpp"
#include "exchange/calendar.hpp"

namespace lampside::exchange {
namespace {

using testing::kNight;
using testing::Story;

// 3.3.4 DATE, 3.3.5 DATE-TIME (UTC), 3.3.6 DURATION, 3.3.8 INTEGER, 3.3.11 TEXT (a backslash only before \ ; , n N).
const std::string kDate = R"(\d{4}(0[1-9]|1[0-2])(0[1-9]|[12]\d|3[01]))";
const std::string kMoment = kDate + R"(T([01]\d|2[0-3])[0-5]\d([0-5]\d|60)Z)";
const std::string kDuration =
    R"([+-]?P(\d+W|\d+D(T(\d+H(\d+M(\d+S)?)?|\d+M(\d+S)?|\d+S))?|T(\d+H(\d+M(\d+S)?)?|\d+M(\d+S)?|\d+S)))";
const std::string kText = R"((\\[\\;,nN]|[^\\;,\x01-\x08\x0A-\x1F\x7F])*)";

struct Rule {
  std::string params, value;
  bool must = false;  ///< in its component, exactly once; else at most once
};
using Rules = std::map<std::string, Rule>;

/// 3.4 and 3.6, the properties that may stand in each component; NAME and REFRESH-INTERVAL are of RFC 7986, 5.1
/// and 5.7.
const std::map<std::string, Rules>& components() {
  static const std::map<std::string, Rules> kAll{
      {"VCALENDAR",
       {{"VERSION", {"", "2\\.0", true}},
        {"PRODID", {"", kText, true}},
        {"CALSCALE", {"", "GREGORIAN"}},
        {"NAME", {"", kText}},
        {"REFRESH-INTERVAL", {";VALUE=DURATION", kDuration}}}},
      {"VEVENT",
       {{"UID", {"", kText, true}},
        {"DTSTAMP", {"", kMoment, true}},
        {"LAST-MODIFIED", {"", kMoment}},
        {"SEQUENCE", {"", R"(\d+)"}},
        {"DTSTART", {"(;VALUE=DATE)?", "(" + kDate + "|" + kMoment + ")", true}},
        {"DTEND", {"(;VALUE=DATE)?", "(" + kDate + "|" + kMoment + ")"}},
        {"SUMMARY", {"", kText}},
        {"DESCRIPTION", {"", kText}},
        {"STATUS", {"", "TENTATIVE|CONFIRMED|CANCELLED"}},
        {"TRANSP", {"", "OPAQUE|TRANSPARENT"}},
        {"CLASS", {"", "PUBLIC|PRIVATE|CONFIDENTIAL"}}}},
      {"VALARM",  // 3.6.6: a DISPLAY alarm has a description and a trigger
       {{"ACTION", {"", "DISPLAY", true}}, {"DESCRIPTION", {"", kText, true}}, {"TRIGGER", {"", kDuration, true}}}}};
  return kAll;
}
const std::map<std::string, std::string> kInside{{"VCALENDAR", ""}, {"VEVENT", "VCALENDAR"}, {"VALARM", "VEVENT"}};

/// What is wrong with it, a line each; empty when nothing is.
std::string faults(const std::string& text) {
  std::string out, unfolded;
  for (std::size_t i = 0; i < text.size(); ++i) {  // 3.1
    if (text.compare(i, 3, "\r\n ") == 0)
      i += 2;
    else
      unfolded += text[i];
  }
  struct Open {
    std::string name;
    std::map<std::string, int> seen;
    std::map<std::string, std::string> value;
  };
  std::vector<Open> open;
  const std::regex line_shape(R"(([A-Za-z0-9-]+)((;[A-Za-z0-9-]+=[^;:,"\x01-\x08\x0A-\x1F]+)*):(.*))");
  std::size_t from = 0;
  while (from < unfolded.size()) {
    auto end = unfolded.find("\r\n", from);
    if (end == std::string::npos) return out + "no CRLF at the end\n";
    const std::string line = unfolded.substr(from, end - from);
    from = end + 2;
    std::smatch parts;
    if (!std::regex_match(line, parts, line_shape)) {
      out += "not name, parameters, value: " + line + "\n";
      continue;
    }
    const std::string name = parts[1], params = parts[2], value = parts[4];
    if (name == "BEGIN") {
      const auto where = kInside.find(value);
      const std::string around = open.empty() ? "" : open.back().name;
      if (where == kInside.end() || where->second != around) out += value + " inside of " + around + "\n";
      open.push_back({value, {}, {}});
    } else if (open.empty()) {
      out += "outside of every component: " + line + "\n";
    } else if (name == "END") {
      if (open.back().name != value) out += "ends " + value + ", open is " + open.back().name + "\n";
      for (const auto& [property, rule] : components().at(open.back().name))
        if (rule.must && open.back().seen[property] == 0) out += open.back().name + " without " + property + "\n";
      auto& v = open.back().value;
      if (!v["DTEND"].empty() && (v["DTEND"].size() != v["DTSTART"].size() || v["DTEND"] <= v["DTSTART"]))
        out += "ends before it begins, or another kind of value: " + v["DTEND"] + "\n";  // 3.8.2.2
      open.pop_back();
    } else {
      const auto& rules = components().at(open.back().name);
      const auto rule = rules.find(name);
      if (rule == rules.end())
        out += name + " in " + open.back().name + "\n";
      else if (!std::regex_match(params, std::regex(rule->second.params)) ||
               !std::regex_match(value, std::regex(rule->second.value)))
        out += "not as its grammar says: " + line + "\n";
      else if ((params == ";VALUE=DATE") != (value.size() == 8) && name.starts_with("DT") && name != "DTSTAMP")
        out += "a date and a moment mixed up: " + line + "\n";
      if (++open.back().seen[name] > 1) out += name + " twice\n";
      open.back().value[name] = value;
    }
  }
  if (!open.empty()) out += "never ends: " + open.back().name + "\n";
  return out;
}

Story told() {
  Story s;
  s.breed("Golden Retriever").mated(kNight - testing::days(63));
  for (int n = 1; n <= 11; ++n) s.born(std::to_string(n), kNight + testing::minutes(30 * n), 400);
  s.tell(kNight, "", record::TeatTurns{true, 8, {}, {}, {}});
  s.tell(kNight, "box",
         record::CareOwn{
             "Grüße; a, b \\ \"c\": d=e\nnext – " + std::string(150, 'x'), CivilDay{std::chrono::days{20800}}, {}});
  return s;
}

TEST(CalendarGrammar, EveryLineOfThePlanFollowsIt) {
  for (const double day : {-20.0, 1.0, 14.0, 60.0}) {
    Story story = told();
    if (day < 0) story = Story{}.breed("Golden Retriever").mated(kNight - testing::days(50));
    const auto now = kNight + testing::days(std::max(day, 0.0));
    const auto text = to_calendar(story.assess(now), story.litter());
    EXPECT_EQ(faults(text), "") << "day " << day;
    EXPECT_GT(text.size(), 4000U);
  }
}

TEST(CalendarGrammar, TheCheckCanSayNo) {
  const auto story = told();
  const auto sound = to_calendar(story.assess(kNight + testing::days(1)), story.litter());
  const auto broken = [&](const std::string& what, const std::string& with) {
    auto text = sound;
    const auto at = text.find(what);
    EXPECT_NE(at, std::string::npos) << what;
    if (at != std::string::npos) text.replace(at, what.size(), with);
    return faults(text);
  };
  EXPECT_EQ(faults(sound), "");
  EXPECT_NE(broken("SEQUENCE:", "SEQUENCE:x"), "");
  EXPECT_NE(broken("TRIGGER:P", "TRIGGER:"), "");
  EXPECT_NE(broken("DTSTART;VALUE=DATE:", "DTSTART:"), "");
  EXPECT_NE(broken("DTSTAMP:", "DTSTAMP:2026"), "");
  EXPECT_NE(broken("UID:", "X-UID:"), "");
  EXPECT_NE(broken("END:VALARM\r\n", ""), "");
  EXPECT_NE(broken("SUMMARY:", "SUMMARY:a,b"), "");
  EXPECT_NE(broken("STATUS:", "STATUS:NO"), "");
  EXPECT_NE(broken("VERSION:2.0\r\n", "VERSION:2.0\r\nVERSION:2.0\r\n"), "");
  EXPECT_NE(broken("END:VCALENDAR\r\n", "END:VCALENDAR"), "");
}

}  // namespace
}  // namespace lampside::exchange
