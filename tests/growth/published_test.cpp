// Birth-weight classes and growth against the printed figures, typed again and not read from the tables.
#include <gtest/gtest.h>

#include <array>

#include "../advice/printed.hpp"
#include "../advice/story.hpp"

namespace lampside::testing {
namespace {

// Mugnier et al. 2020, BMC Veterinary Research 16:363, Table 2: normal at or above, very low below (grams).
struct Breed {
  const char* name;
  double normal_from, very_low_below;
};
constexpr std::array kBreeds{
    Breed{"Australian Shepherd", 375, 213}, Breed{"Bichon Frise", 181, 163.5},
    Breed{"Cocker Spaniel", 280, 142.5},    Breed{"German Shepherd", 480, 338},
    Breed{"Golden Retriever", 417, 177.5},  Breed{"Labrador Retriever", 406, 248},
    Breed{"Maltese", 163, 115.5},           Breed{"Rottweiler", 410, 345},
    Breed{"Shih Tzu", 176, 128.5},          Breed{"West Highland White Terrier", 190, 129},
};

/// What is said of one newborn of that breed and weight: class, then each birth finding with its level.
std::string said_of(const char* breed, double grams) {
  const auto a = Story{}.breed(breed).born("1", kNight - hours(3), grams).assess(kNight);
  const auto& pup = a.pups.at(0);
  const auto* birth_class = reference::value_of(pup.birth_class);
  std::string out(birth_class ? name_of(*birth_class) : "not assessed");
  for (const auto& f : a.findings)
    if (f.code.starts_with("BIRTH_")) {
      out += fmt::format(" {} {}", name_of(f.level), f.code);
      EXPECT_NE(f.source.locator.find(breed), std::string_view::npos)
          << "the source is not this breed's row: " << f.source.locator;
    }
  return out;
}

TEST(BirthClass, EveryPrintedLimitAtJustUnderJustOver) {
  for (const auto& b : kBreeds) {
    const auto check = [&](double grams, const char* want) {
      EXPECT_TRUE(as_printed(fmt::format("birth class: {}", b.name),
                             fmt::format("Mugnier et al. 2020, BMC Vet Res 16:363, Table 2, row \"{}\"", b.name),
                             fmt::format("birth weight {} g", grams), want, said_of(b.name, grams)));
    };
    check(b.normal_from + 0.1, "normal");
    check(b.normal_from, "normal");
    check(b.normal_from - 0.1, "low note BIRTH_LOW");
    check(b.very_low_below + 0.1, "low note BIRTH_LOW");
    check(b.very_low_below, "low note BIRTH_LOW");
    check(b.very_low_below - 0.1, "very_low call_vet BIRTH_VERY_LOW");
  }
}

TEST(BirthClass, CannotTellWithoutTheBreedOrTheWeight) {
  const auto code = [](const Story& s) {
    const auto a = s.assess(kNight);
    const auto* why = std::get_if<reference::NotAssessed>(&a.pups.at(0).birth_class);
    return why ? std::string(why->code) : std::string("assessed");
  };
  EXPECT_EQ(code(Story{}.breed("Beagle").born("1", kNight - hours(3), 200)), "NO_REFERENCE");
  EXPECT_EQ(code(Story{}.born("1", kNight - hours(3), 200)), "NO_REFERENCE");
  EXPECT_EQ(code(Story{}.breed("Maltese").born("1", kNight - hours(3))), "NO_DATA");
  EXPECT_EQ(code(Story{}.breed("maltese").born("1", kNight - hours(3), 200)), "assessed");
}

/// A pup weighed daily from birth, at those rates a day (percent) in week 1 and in weeks 2-4; the codes said on any
/// day.
std::string codes_on_the_way(double week1, double weeks2_4, std::string_view prefix) {
  Story story;
  double grams = 400;
  story.born("1", kNight, grams);
  std::string out;
  for (int day = 1; day < 28; ++day) {
    grams *= 1 + (day <= 7 ? week1 : weeks2_4) / 100;
    story.weighed("1", grams, kNight + days(day));
    for (const auto& f : story.assess(kNight + days(day)).findings)
      if (f.code.starts_with(prefix)) out += fmt::format("{}@{} ", f.code, day);
  }
  return out;
}

// Small Animal Clinical Nutrition, 5th ed. 2010, Table 16-1, p. 297: week 1 8 % a day (5-10), weeks 2-4 5 % (3.5-6).
TEST(Growth, ThePrintedRangeIsNeitherSlowNorImpossible) {
  const char* source = "Small Animal Clinical Nutrition, 5th ed., Table 16-1, p. 297";
  for (const auto& [a, b] : {std::pair{5.0, 3.5}, {8.0, 5.0}, {10.0, 6.0}})
    for (const char* prefix : {"SLOW_GAIN", "NO_GAIN", "WEIGHT_JUMP", "LOSS"})
      EXPECT_TRUE(as_printed(prefix, source,
                             fmt::format("{} % a day in week 1, {} % in weeks 2-4, weighed daily", a, b), "",
                             codes_on_the_way(a, b, prefix)));
  EXPECT_TRUE(as_printed("DOUBLING_LATE", source, "8 % and 5 % a day", "", codes_on_the_way(8, 5, "DOUBLING_LATE")));
}
TEST(Growth, JustUnderThePrintedRangeIsSlow) {
  // The lower end of week 1 is judged until day 7, from the third day of weights on; the weeks after from day 7 on.
  EXPECT_EQ(codes_on_the_way(4.9, 5, "SLOW_GAIN"),
            "SLOW_GAIN_WEEK1@3 SLOW_GAIN_WEEK1@4 SLOW_GAIN_WEEK1@5 SLOW_GAIN_WEEK1@6 ");
  EXPECT_TRUE(codes_on_the_way(8, 3.4, "SLOW_GAIN").starts_with("SLOW_GAIN_WEEKS2_4@10 SLOW_GAIN_WEEKS2_4@11 "));
}

}  // namespace
}  // namespace lampside::testing
