// Who may come in. Every refusal has a twin that is let in, so that a guard that refuses everything fails here too.
#include "server/guard.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace lampside::server {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

const std::string kSecret =
    "00112233445566778899aabbccddeeff"
    "f0e1d2c3b4a5968778695a4b3c2d1e0f";
const std::string kToken = kSecret.substr(0, 32);

Guard at(const std::string& address) {
  return Guard{{.secret = kSecret, .address = address, .lan = [] {
                  return std::vector<std::string>{"192.168.7.20", "2001:db8::5"};
                }}};
}

Request ask(const std::string& method, const std::string& host) {
  Request r;
  r.method = method;
  r.path = "/l/x/now";
  r.segments = {"l", "x", "now"};
  r.headers["host"] = host;
  return r;
}

std::string code(const std::optional<Guard::Refusal>& r) { return r ? r->problem.code : ""; }

TEST(Guard, HostNamesOnLoopback) {
  const auto g = at("127.0.0.1");
  for (const auto* host : {"127.0.0.1:8080", "localhost:8080", "LOCALHOST", "[::1]:8080", "127.0.0.1:9999"})
    EXPECT_EQ(code(g.refuse(ask("GET", host))), "") << host;
  for (const auto* host :
       {"", "evil.example", "evil.example:8080", "127.0.0.1.evil.example", "localhost.evil.example",
        "192.168.7.20:8080", "[::1", "127.0.0.1:80@evil.example", "0.0.0.0:8080", "127.0.0.1, evil.example"})
    EXPECT_EQ(code(g.refuse(ask("GET", host))), "GUARD_HOST") << host;
}

TEST(Guard, HostNamesBeyondLoopback) {
  const auto g = at("0.0.0.0");
  for (const auto* host : {"192.168.7.20:8080", "[2001:DB8::5]:8080", "127.0.0.1"})
    EXPECT_EQ(code(g.refuse(ask("GET", host))), "GUARD_KEY") << host;  // known host, still no key
  for (const auto* host : {"192.168.7.21", "evil.example", "0.0.0.0:8080"})
    EXPECT_EQ(code(g.refuse(ask("GET", host))), "GUARD_HOST") << host;
}

TEST(Guard, TheFeedsSecretOpensItsAddressAndNothingElse) {
  const std::string feed(32, 'f');
  const Guard g{{.secret = kSecret, .address = "0.0.0.0", .feed = feed, .lan = [] {
                   return std::vector<std::string>{"192.168.7.20"};
                 }}};
  const auto ask_for = [](std::vector<std::string> segments, const char* method = "GET") {
    auto r = ask(method, "192.168.7.20:8080");
    r.segments = std::move(segments);
    return r;
  };
  EXPECT_EQ(code(g.refuse(ask_for({"feed", feed, "juniper-2026.ics"}))), "");
  EXPECT_EQ(code(g.refuse(ask_for({"feed", std::string(32, 'e'), "juniper-2026.ics"}))), "GUARD_KEY");
  EXPECT_EQ(code(g.refuse(ask_for({"feed", "", "juniper-2026.ics"}))), "GUARD_KEY");
  EXPECT_EQ(code(g.refuse(ask_for({"feed", feed}))), "GUARD_KEY");
  EXPECT_EQ(code(g.refuse(ask_for({"l", feed, "now"}))), "GUARD_KEY");
  EXPECT_EQ(code(g.refuse(ask_for({"feed", feed, "x.ics"}, "POST"))), "GUARD_KEY");
  // No name of ours in the address: refused, whatever the secret.
  auto foreign = ask_for({"feed", feed, "juniper-2026.ics"});
  foreign.headers["host"] = "evil.example";
  EXPECT_EQ(code(g.refuse(foreign)), "GUARD_HOST");
  // Without a feed an empty secret opens nothing.
  EXPECT_EQ(code(at("0.0.0.0").refuse(ask_for({"feed", "", "juniper-2026.ics"}))), "GUARD_KEY");
}

TEST(Guard, KeyIsAskedForBeyondLoopbackOnly) {
  EXPECT_EQ(at("127.0.0.1").key(), "");
  EXPECT_EQ(at("::1").key(), "");
  const auto g = at("0.0.0.0");
  EXPECT_EQ(g.key(), kSecret.substr(32));
  auto r = ask("GET", "192.168.7.20:8080");
  r.cookies["lampside_key_f0e1d2"] = g.key();
  EXPECT_EQ(code(g.refuse(r)), "");
  r.cookies["lampside_key_f0e1d2"].back() = 'x';
  EXPECT_EQ(code(g.refuse(r)), "GUARD_KEY");
  r.segments = {"assets", "lampside.css"};  // the page that says so needs its looks
  EXPECT_EQ(code(g.refuse(r)), "");
}

TEST(Guard, TheRightKeyBecomesACookieAndLeavesTheAddress) {
  const auto g = at("0.0.0.0");
  auto r = ask("GET", "192.168.7.20:8080");
  r.query = {{"key", g.key()}, {"turn", "a b"}};
  const auto in = g.take_key(r);
  ASSERT_TRUE(in);
  EXPECT_EQ(in->status, 303);
  EXPECT_EQ(in->headers[0], (Header{"Location", "/l/x/now?turn=a%20b"}));
  EXPECT_THAT(in->headers[1].second, HasSubstr("HttpOnly; SameSite=Strict"));
  r.segments = {"", "evil.example"};
  EXPECT_EQ(g.take_key(r)->headers[0].second.rfind("//", 0), std::string::npos);
  r.query = {{"key", "wrong"}};
  EXPECT_FALSE(g.take_key(r));
  r.query = {{"key", g.key()}};
  r.headers["host"] = "evil.example";
  EXPECT_FALSE(g.take_key(r));
}

TEST(Guard, PostNeedsTheToken) {
  const auto g = at("127.0.0.1");
  auto r = ask("POST", "localhost:8080");
  EXPECT_EQ(code(g.refuse(r)), "GUARD_TOKEN");
  r.query = {{"token", kToken}};  // in the address it would land in histories: only the form counts
  EXPECT_EQ(code(g.refuse(r)), "GUARD_TOKEN");
  for (const auto& wrong : {std::string{}, kToken.substr(1), kToken + "0", std::string(32, '0')}) {
    r.form = {{"token", wrong}};
    EXPECT_EQ(code(g.refuse(r)), "GUARD_TOKEN") << wrong;
  }
  r.form = {{"token", kToken}};
  EXPECT_EQ(code(g.refuse(r)), "");
}

TEST(Guard, PostFromAnotherSiteIsRefusedEvenWithTheToken) {
  const auto g = at("127.0.0.1");
  auto r = ask("POST", "localhost:8080");
  r.form = {{"token", kToken}};
  for (const auto* origin : {"http://localhost:8080", "https://localhost:8080"}) {
    r.headers["origin"] = origin;
    EXPECT_EQ(code(g.refuse(r)), "") << origin;
  }
  for (const auto* origin :
       {"null", "http://evil.example", "http://localhost:8081", "http://127.0.0.1:8080", "localhost:8080"}) {
    r.headers["origin"] = origin;
    EXPECT_EQ(code(g.refuse(r)), "GUARD_ORIGIN") << origin;
  }
  r.headers.erase("origin");
  for (const auto* site : {"cross-site", "same-site", "none"}) {
    r.headers["sec-fetch-site"] = site;
    EXPECT_EQ(code(g.refuse(r)), "GUARD_ORIGIN") << site;
  }
  r.headers["sec-fetch-site"] = "same-origin";
  EXPECT_EQ(code(g.refuse(r)), "");
}

TEST(Guard, TokenStaysWithTheSecret) {
  EXPECT_EQ(at("127.0.0.1").token(), at("0.0.0.0").token());
  EXPECT_THAT(at("0.0.0.0").key(), Not(HasSubstr(kToken)));
  EXPECT_EQ(fresh_secret().size(), 64U);
  EXPECT_NE(fresh_secret(), fresh_secret());
  EXPECT_THROW(Guard{{.secret = "short"}}, std::invalid_argument);
}

TEST(Guard, EqualInConstantTimeIsEqual) {
  EXPECT_TRUE(equal_in_constant_time("abc", "abc"));
  EXPECT_TRUE(equal_in_constant_time("", ""));
  for (const auto* other : {"abd", "xbc", "ab", "abcd", ""}) EXPECT_FALSE(equal_in_constant_time("abc", other));
}

TEST(Guard, LanAddressesLeaveLoopbackOut) {
  for (const auto& a : lan_addresses()) EXPECT_TRUE(a.rfind("127.", 0) != 0 && a != "::1") << a;
}

}  // namespace
}  // namespace lampside::server
