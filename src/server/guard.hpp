// Who may come in: the checks that every request passes before any page is made.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "server/http.hpp"

namespace lampside::server {

/// The headers of every response. Pages may load nothing from elsewhere and run no inline script; nobody may frame
/// them.
std::vector<Header> safe_headers();

/// Same time whatever the texts are, so that a token cannot be guessed letter by letter.
bool equal_in_constant_time(std::string_view a, std::string_view b);

/// A secret of 64 hex digits from the system's random source.
std::string fresh_secret();

/// The addresses of this machine's network interfaces, without loopback and link-local ones: "192.168.1.20",
/// "2001:db8::5".
std::vector<std::string> lan_addresses();

/// The name part of a Host header, in lower case, without brackets: "[::1]:8080" is "::1". Empty when malformed.
std::string host_name(std::string_view host_header);

class Guard {
 public:
  struct Policy {
    std::string secret;     ///< fresh_secret(), kept with the journal, so that forms opened before a restart still work
    std::string address{};  ///< listened on
    std::string feed{};     ///< another secret: who has it may read the calendar and nothing else; empty: no feed
    std::function<std::vector<std::string>()> lan = lan_addresses;
  };
  explicit Guard(Policy policy);

  struct Refusal {
    int status;
    Problem problem;
  };
  /// Host (against a foreign name pointed at this machine), key (beyond loopback), and on POST origin and token.
  /// Codes: GUARD_HOST, GUARD_KEY, GUARD_ORIGIN, GUARD_TOKEN.
  [[nodiscard]] std::optional<Refusal> refuse(const Request& request) const;

  /// The answer to an address that carries the right ?key=: a cookie, and on to the same address without it.
  [[nodiscard]] std::optional<Response> take_key(const Request& request) const;

  /// An address of the calendar's feed with the right secret in it. It opens that address only.
  [[nodiscard]] bool is_feed(const Request& request) const;
  [[nodiscard]] const std::string& feed() const { return policy_.feed; }

  [[nodiscard]] const std::string& token() const { return token_; }  ///< goes into every form
  [[nodiscard]] const std::string& key() const { return key_; }      ///< empty on loopback: nobody else can connect
  [[nodiscard]] bool beyond_loopback() const { return beyond_; }

 private:
  [[nodiscard]] bool host_allowed(const std::string& name) const;
  [[nodiscard]] std::string cookie_name() const;

  Policy policy_;
  bool beyond_;
  std::string token_, key_;
};

}  // namespace lampside::server
