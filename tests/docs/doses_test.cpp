// docs/doses.md names every code by which a dose is refused, and none that the program does not know.
#include <gtest/gtest.h>

#include <fstream>
#include <regex>
#include <set>
#include <sstream>

namespace {

std::string slurp(const std::string& name) {
  std::ifstream in(std::string(LAMPSIDE_SOURCE_DIR) + "/" + name);
  std::stringstream text;
  text << in.rdbuf();
  return text.str();
}
std::set<std::string> all(const std::string& text, const char* pattern) {
  const std::regex wanted(pattern);
  std::set<std::string> out;
  for (std::sregex_iterator at(text.begin(), text.end(), wanted), end; at != end; ++at) out.insert((*at)[1]);
  return out;
}

std::set<std::string> refusals(std::initializer_list<const char*> files) {
  std::string text;
  for (const auto* file : files) text += slurp(file);
  return all(text, R"re((?:NotAssessed|push_back\(\s*)\{\s*"([A-Z_]{4,})")re");
}

TEST(FeedingPage, NamesEveryReasonWhyThereIsNoMilk) {
  auto known = refusals({"src/nest/feeding.cpp", "src/nest/milk.cpp", "src/growth/sound_weight.cpp"});
  EXPECT_GT(known.size(), 12u);
  EXPECT_EQ(all(slurp("docs/feeding.md"), "`([A-Z][A-Z_]+[A-Z])`"), known);
}

TEST(DosesPage, NamesEveryRefusal) {
  const auto known = refusals({"src/care/dose.cpp", "src/care/round.cpp", "src/growth/sound_weight.cpp"});
  auto documented = all(slurp("docs/doses.md"), "`([A-Z][A-Z_]+[A-Z])`");
  EXPECT_GT(known.size(), 18u);
  EXPECT_EQ(documented, known);
}

}  // namespace
