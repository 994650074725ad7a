#include "server/multipart.hpp"

#include <gtest/gtest.h>

#include "house.hpp"

namespace lampside::server {
namespace {

using namespace std::string_literals;

const std::string kBody =
    "--B\r\nContent-Disposition: form-data; name=\"about\"\r\n\r\n4\r\n"
    "--B\r\ncontent-disposition: form-data; name=\"picture\"; filename=\"a\0b.jpg\"\r\nContent-Type: image/jpeg\r\n\r\n"s +
    "\xff\xd8\r\n--not a boundary\r\n\0"s + "\r\n--B--\r\n"s;

TEST(Multipart, FieldsAndFiles) {
  const auto parts = parse_multipart(kBody, "B").value();
  EXPECT_EQ(parts.fields.find("about")->second, "4");
  ASSERT_EQ(parts.files.size(), 1U);
  EXPECT_EQ(parts.files[0].field, "picture");
  EXPECT_EQ(parts.files[0].bytes, "\xff\xd8\r\n--not a boundary\r\n\0"s);
}

TEST(Multipart, AnEmptyFileFieldIsNoFile) {
  const auto parts = parse_multipart(
      "--B\r\nContent-Disposition: form-data; name=\"picture\"; filename=\"\"\r\n\r\n\r\n--B--\r\n", "B");
  EXPECT_TRUE(parts.value().files.empty());
}

TEST(Multipart, TheBoundary) {
  EXPECT_EQ(boundary_of("multipart/form-data; boundary=abc"), "abc");
  EXPECT_EQ(boundary_of("Multipart/Form-Data; charset=x; BOUNDARY=\"a b\""), "a b");
  EXPECT_EQ(boundary_of("application/x-www-form-urlencoded"), "");
  EXPECT_EQ(boundary_of("multipart/form-data; boundary=" + std::string(71, 'x')), "");
}

TEST(Multipart, CutOffAnywhereIsRefused) {
  for (std::size_t n = 0; n + 4 < kBody.size(); ++n) EXPECT_FALSE(parse_multipart(kBody.substr(0, n), "B")) << n;
  EXPECT_FALSE(parse_multipart(kBody, ""));
  EXPECT_EQ(parse_multipart("--B\r\nContent-Disposition: form-data; name=\"a\"\r\n\r\n\xff\r\n--B--", "B").error().code,
            "FORM_UTF8");
}

TEST(Upload, ARenamedProgramComesBackWithThePageAndAReason) {
  test::House house;
  house.with_pups();
  const auto send = [&](const std::string& bytes, const std::string& token) {
    std::string body;
    for (const auto& [name, value] :
         {std::pair{"token"s, token}, {"id"s, test::id(77)}, {"about"s, "1"s}, {"back"s, "pup?label=1"s}})
      body += "--B\r\nContent-Disposition: form-data; name=\"" + name + "\"\r\n\r\n" + value + "\r\n";
    body += "--B\r\nContent-Disposition: form-data; name=\"picture\"; filename=\"cute.jpg\"\r\n\r\n" + bytes +
            "\r\n--B--\r\n";
    return test::ask(house.port(), "POST", "/l/juniper-2026/picture",
                     "Content-Type: multipart/form-data; boundary=B\r\nOrigin: http://127.0.0.1:" +
                         std::to_string(house.port()) + "\r\n",
                     body);
  };
  const auto answer = send("\x7f"s + "ELF\x02", house.token());
  EXPECT_EQ(answer.status, 422);
  EXPECT_TRUE(test::holds(answer, "a program")) << answer.body.substr(0, 400);
  EXPECT_EQ(send("\xff\xd8\xff", "another token").status, 403);
  EXPECT_EQ(send(std::string(25U << 20U, 'x'), house.token()).status, 413);
  EXPECT_EQ(test::get(house.port(), "/l/juniper-2026/picture/" + std::string(64, '0') + ".jpg").status, 404);
}

}  // namespace
}  // namespace lampside::server
