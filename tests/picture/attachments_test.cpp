#include "store/attachments.hpp"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>

#include "picture/sha256.hpp"

namespace lampside::store {
namespace {

namespace fs = std::filesystem;

class AttachmentsTest : public testing::Test {
 protected:
  void SetUp() override {
    char name[] = "/tmp/lampside-attachments-XXXXXX";
    ASSERT_NE(mkdtemp(name), nullptr);
    folder_ = name;
  }
  void TearDown() override { fs::remove_all(folder_); }
  [[nodiscard]] std::ptrdiff_t files(const std::string& in) const {
    return std::distance(fs::directory_iterator{folder_ + in}, {});
  }
  std::string folder_;
  const std::string picture_ = "a picture", sha_ = picture::sha256(picture_);
};

TEST_F(AttachmentsTest, TheSamePictureTwiceIsOneFileThatOnlyItsOwnerReads) {
  const auto kept = Attachments::beside(folder_);
  ASSERT_TRUE(kept.keep(sha_, picture_));
  ASSERT_TRUE(kept.keep(sha_, picture_));
  EXPECT_EQ(files("/attachments"), 1);
  EXPECT_EQ(kept.read(sha_).value(), picture_);
  EXPECT_EQ(fs::status(folder_ + "/attachments/" + sha_ + ".jpg").permissions() & fs::perms::others_all,
            fs::perms::none);
}

TEST_F(AttachmentsTest, NamesAreHashesAndNothingElse) {
  const auto kept = Attachments::beside(folder_);
  EXPECT_EQ(kept.keep("../escaped", picture_).error().code, "ATTACHMENTS_NONE");
  EXPECT_EQ(kept.read("../../etc/passwd").error().code, "ATTACHMENT_GONE");
  EXPECT_EQ(Attachments{}.keep(sha_, picture_).error().code, "ATTACHMENTS_NONE");
}

TEST_F(AttachmentsTest, AFileThatChangedOnTheDiskIsNotHandedOut) {
  const auto kept = Attachments::beside(folder_);
  ASSERT_TRUE(kept.keep(sha_, picture_));
  std::ofstream{folder_ + "/attachments/" + sha_ + ".jpg"} << "another";
  EXPECT_EQ(kept.read(sha_).error().code, "STORE_DAMAGED");
}

TEST_F(AttachmentsTest, GoIntoACopyAndBack) {
  const auto kept = Attachments::beside(folder_), copy = Attachments::of_copy(folder_ + "/safe.db");
  EXPECT_EQ(kept.copy_to(copy).value(), 0U);  // nothing to copy, and nothing made
  EXPECT_FALSE(fs::exists(folder_ + "/safe.db.attachments"));
  ASSERT_TRUE(kept.keep(sha_, picture_));
  std::ofstream{folder_ + "/attachments/notes.txt"} << "not a picture";
  EXPECT_EQ(kept.copy_to(copy).value(), 1U);
  EXPECT_EQ(files("/safe.db.attachments"), 1);
  EXPECT_EQ(copy.copy_to(Attachments::beside(folder_ + "/back")).value(), 1U);
  EXPECT_EQ(Attachments::beside(folder_ + "/back").read(sha_).value(), picture_);
}

}  // namespace
}  // namespace lampside::store
