// What a telephone is told to dial.
#include <gtest/gtest.h>

#include "page/words.hpp"

namespace lampside::page {
namespace {

TEST(Telephone, OneNumberIsDialledWhateverStandsBesideIt) {
  EXPECT_EQ(tel_href("01632 960118"), "tel:01632960118");
  EXPECT_EQ(tel_href("+44 1632 960 118"), "tel:+441632960118");
  EXPECT_EQ(tel_href("+44 (0)1632 960118"), "tel:+441632960118");
  EXPECT_EQ(tel_href("(01632) 960-118"), "tel:01632960118");
  EXPECT_EQ(tel_href("01632 960118 ext 12"), "tel:01632960118");
  EXPECT_EQ(tel_href("01632 960144 or 07700 900123"), "tel:01632960144");
  EXPECT_EQ(tel_href("Night: 01632 960144"), "tel:01632960144");
  EXPECT_EQ(tel_href("ask at the desk"), "");
}

}  // namespace
}  // namespace lampside::page
