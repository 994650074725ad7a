// Where free words name a person: what is found, what is left alone, and what stands there afterwards.
#include "exchange/named.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "exchange/taken_in.hpp"

namespace lampside::exchange {
namespace {

using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::Not;

const CivilDay kToday{std::chrono::year{2026} / 11 / 27};
const record::Person kInes{
    .family = "f1", .name = "The Hartwell family", .phone = "01632 960-777", .email = "ines@example.org"};

record::Entry noted(const std::string& note, unsigned n = 1) {
  const auto at = parse_stamp("2026-11-12T17:00:00Z").value();
  auto e = record::make_entry("00000000-0000-4000-8000-00000000000" + std::to_string(n), "j", at, at, "Hartwell", "",
                              record::Note{});
  e.note = note;
  return e;
}
std::vector<Named> in(const std::vector<record::Entry>& entries, const record::Person& person = kInes) {
  return naming(record::fold(entries, "j", Zone{}), person, kToday);
}

TEST(Named, WhatIsLookedFor) {
  EXPECT_THAT(names_of(kInes),
              ElementsAre("The Hartwell family", "Hartwell", "01632 960-777", "01632960777", "ines@example.org"));
  EXPECT_THAT(names_of({.name = "Mr and Mrs Li"}), Not(Contains("Mrs")));
}

TEST(Named, FoundAndReplacedAndMarked) {
  const auto found = in({noted("the HARTWELL FAMILY came; Hartwell's car. Ring 01632960777")});
  ASSERT_EQ(found.size(), 1u);
  EXPECT_EQ(found[0].without.note, "[erased] came; [erased] car. Ring [erased]");
  EXPECT_EQ(found[0].without.extra.json().at("name_out"), "2026-11-27");
  EXPECT_EQ(found[0].without.by, "Hartwell") << "who wrote is not theirs to say";
  EXPECT_FALSE(found[0].struck);
}

TEST(Named, APartOfAWordIsNoName) {
  const record::Person rose{.family = "f1", .name = "Rose Quill"};
  EXPECT_TRUE(in({noted("the temperature rose; Rosehip tea; quillwork")}, rose).empty());
  EXPECT_EQ(in({noted("Rose held it")}, rose).size(), 1u);
  EXPECT_EQ(in({noted("the Quills came")}, rose)[0].without.note, "the [erased] came");
  EXPECT_TRUE(in({noted("any words at all")}, {.family = "f1"}).empty()) << "nobody is named by nothing";
}

TEST(Named, InEveryFieldOfWordsAndAlsoWhatIsStruckOut) {
  const auto at = parse_stamp("2026-11-12T18:00:00Z").value();
  const auto money = record::make_entry(
      "00000000-0000-4000-8000-000000000002", "j", at, at, "", "",
      record::MoneyMoved{Cash{85'000}, record::MoneyWay::in, "for Hartwell's pup", "GBP", "f1", "Hartwell", {}});
  const auto strike = record::make_entry("00000000-0000-4000-8000-000000000003", "j", at, at, "", "",
                                         record::Strike{"00000000-0000-4000-8000-000000000001"});
  const auto found = in({noted("Hartwell"), money, strike});
  ASSERT_EQ(found.size(), 2u);
  const auto& body = std::get<record::MoneyMoved>(found[0].without.body);
  EXPECT_EQ(body.what_for, "for [erased] pup");
  EXPECT_EQ(body.paid_by, "[erased]");
  EXPECT_EQ(body.family, "f1");
  EXPECT_EQ(body.amount, Cash{85'000});
  EXPECT_TRUE(found[1].struck);
}

TEST(Named, TwoJournalsOfOneEntryStillJoin) {
  const auto whole = noted("Hartwell came");
  const auto without = in({whole})[0].without;
  EXPECT_TRUE(same_but_for_a_name(whole, without) && same_but_for_a_name(without, whole));
  EXPECT_FALSE(same_but_for_a_name(whole, noted("other words")));
  auto later = without;
  later.at.instant += std::chrono::hours{1};
  EXPECT_FALSE(same_but_for_a_name(whole, later));
  const auto zones = [](const std::string&) -> Result<Zone> { return Zone{}; };
  TakenIn taken;
  taken.entries = {whole};
  taken.lines = {1};
  EXPECT_TRUE(admit(std::vector{without}, taken, zones, Misfits::refuse));
  taken.entries = {later};
  EXPECT_FALSE(admit(std::vector{whole}, taken, zones, Misfits::refuse));
}

}  // namespace
}  // namespace lampside::exchange
