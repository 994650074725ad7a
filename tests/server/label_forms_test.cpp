// A product's label as it comes from the form: read twice, asked about when odd, refused when no dose could follow.
#include <gtest/gtest.h>

#include "house.hpp"
#include "server/forms.hpp"

namespace lampside::server {
namespace {

struct Shelf {
  std::vector<record::Entry> entries;
  record::Litter litter;
  void add(record::Entry e) {
    entries.push_back(std::move(e));
    litter = record::fold(entries, "j", Zone{});
  }
  Result<record::Entry> read(Fields form, int id = 100) {
    form.emplace("id", test::id(id));
    form.emplace("kind", "product");
    litter.key = "j";
    return entry_from(form, {litter,
                             [this](const record::EntryId& wanted) -> const record::Entry* {
                               for (const auto& e : entries)
                                 if (e.id == wanted) return &e;
                               return nullptr;
                             },
                             test::at("2026-03-20T10:00:00Z"), "phone"});
  }
};
Fields label(const std::string& strength, const std::string& again) {
  return {{"name", "worm suspension"}, {"active", "pyrantel"}, {"strength", strength}, {"dose", "5 mg/kg"},
          {"strength_again", again},   {"mark_ml", "0,1"},     {"min_kg", ""},         {"at_least", "false"}};
}
std::string code(const Result<record::Entry>& r) { return r ? "" : r.error().code; }

TEST(FormLabel, TheStrengthIsTypedTwice) {
  Shelf shelf;
  EXPECT_EQ(code(shelf.read(label("4.54 mg/ml", ""))), "FORM_STRENGTH_TWICE");
  EXPECT_EQ(code(shelf.read(label("4.54 mg/ml", "45.4 mg/ml"))), "FORM_STRENGTH_TWICE");
  EXPECT_EQ(code(shelf.read(label("4.54 mg/ml", "4.54 mg/tablet"))), "FORM_STRENGTH_TWICE");
  const auto taken = shelf.read(label("4.54 mg/ml", "4,54 mg per ml"));
  ASSERT_TRUE(taken) << to_text(taken.error());
  const auto& p = *record::body_as<record::Product>(*taken);
  EXPECT_EQ(p.strength, "4.54 mg/ml");  // kept as typed
  EXPECT_EQ(p.mark_ml, Millilitres{0.1});
  EXPECT_FALSE(p.min_kg);
  EXPECT_FALSE(p.confirmed);
}

TEST(FormLabel, WhatNoDoseCouldFollowFromIsRefused) {
  Shelf shelf;
  EXPECT_EQ(code(shelf.read(label("10 %", "10 %"))), "STRENGTH_PERCENT");
  EXPECT_EQ(code(shelf.read(label("1:10", "1:10"))), "STRENGTH_RATIO");
  auto form = label("4.54 mg/ml", "4.54 mg/ml");
  form.erase("dose");
  EXPECT_EQ(code(shelf.read(form)), "LABEL_NO_DOSE");
  form = label("4.54 mg/ml", "4.54 mg/ml");
  form.erase("name");
  EXPECT_EQ(code(shelf.read(form)), "ENTRY_MISSING");
}

TEST(FormLabel, AnOddStrengthIsAskedAboutAndAnotherOneAgain) {
  Shelf shelf;
  auto form = label("45.4 mg/ml", "45.4 mg/ml");
  EXPECT_EQ(code(shelf.read(form)), "FORM_STRENGTH_ODD");
  form.emplace("confirmed", "true");
  const auto stands = shelf.read(form);
  ASSERT_TRUE(stands) << to_text(stands.error());
  shelf.add(*stands);
  // Another lot, the same strength: the answer holds, and nothing is typed twice.
  const auto lot = shelf.read({{"corrects", test::id(100)}, {"lot", "B"}, {"strength", "45.4 mg/ml"}}, 101);
  ASSERT_TRUE(lot) << to_text(lot.error());
  EXPECT_EQ(record::body_as<record::Product>(*lot)->confirmed, true);
  // Another strength: typed twice, asked about once more.
  EXPECT_EQ(code(shelf.read({{"corrects", test::id(100)}, {"strength", "0.454 mg/ml"}}, 102)), "FORM_STRENGTH_TWICE");
  EXPECT_EQ(code(shelf.read(
                {{"corrects", test::id(100)}, {"strength", "0.454 mg/ml"}, {"strength_again", "0.454 mg/ml"}}, 103)),
            "FORM_STRENGTH_ODD");
  const auto right =
      shelf.read({{"corrects", test::id(100)}, {"strength", "4.54 mg/ml"}, {"strength_again", "4.54 mg/ml"}}, 104);
  ASSERT_TRUE(right) << to_text(right.error());
  EXPECT_FALSE(record::body_as<record::Product>(*right)->confirmed);
}

}  // namespace
}  // namespace lampside::server
