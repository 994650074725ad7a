#include "exchange/entry_id.hpp"

#include <gtest/gtest.h>

namespace lampside::exchange {
namespace {

TEST(EntryId, WorkedExampleOfTheStandard) {
  // RFC 9562, appendix A.4: namespace DNS, name "www.example.com".
  EXPECT_EQ(name_based_id("6ba7b810-9dad-11d1-80b4-00c04fd430c8", "www.example.com"),
            "2ed6657d-e927-568b-95e1-2665a8aea6a2");
}

TEST(EntryId, NamesAroundTheBlockEdge) {
  // Made with Python's uuid.uuid5 (another SHA-1) in the same namespace, for names of 39 to 1000 times "x": with the 16
  // bytes of the namespace these lengths cross the edge where the padding needs a second block.
  const std::string dns = "6ba7b810-9dad-11d1-80b4-00c04fd430c8";
  EXPECT_EQ(name_based_id(dns, std::string(39, 'x')), "2f80c0d1-1c62-579f-8d68-e61ad5592c9b");
  EXPECT_EQ(name_based_id(dns, std::string(40, 'x')), "e56fd57a-7633-5e1d-8f80-70e05ac413e5");
  EXPECT_EQ(name_based_id(dns, std::string(47, 'x')), "a112377b-8258-5ef7-b5b0-d2540bc03abb");
  EXPECT_EQ(name_based_id(dns, std::string(48, 'x')), "83993b6c-dea9-55ca-be5b-9989c85943fc");
  EXPECT_EQ(name_based_id(dns, std::string(1000, 'x')), "f6d12730-a238-51ed-bf69-3689855f9bbf");
}

TEST(EntryId, PartsAreKeptApart) {
  EXPECT_NE(row_id("a", "bc", "weight", "2026-03-01"), row_id("ab", "c", "weight", "2026-03-01"));
  EXPECT_NE(row_id("a", "b", "weight", "2026-03-01"), row_id("a", "b", "birth", "2026-03-01"));
  EXPECT_EQ(row_id("a", "b", "weight", "2026-03-01"), row_id("a", "b", "weight", "2026-03-01"));
}

}  // namespace
}  // namespace lampside::exchange
