#include "server/guard.hpp"

#include <arpa/inet.h>
#include <ifaddrs.h>
#include <netinet/in.h>
#include <sys/random.h>
#include <sys/socket.h>

#include <algorithm>
#include <array>
#include <functional>
#include <iterator>
#include <stdexcept>

#include "server/urlencoded.hpp"

namespace lampside::server {
namespace {

constexpr std::size_t kPieceDigits = 32;  ///< 128 bits each for the token and the key

bool loopback(const std::string& name) { return name == "localhost" || name == "::1" || name.rfind("127.", 0) == 0; }

}  // namespace

std::vector<Header> safe_headers() {
  return {
      {"Content-Security-Policy",
       "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self' data:; connect-src 'self'; "
       "form-action 'self'; frame-ancestors 'none'; base-uri 'none'"},
      {"X-Content-Type-Options", "nosniff"},
      {"X-Frame-Options", "DENY"},
      // Not "no-referrer": under it browsers send "Origin: null" with our own forms, and the origin check would be
      // blind. Other sites still learn nothing.
      {"Referrer-Policy", "same-origin"},
      {"Cross-Origin-Opener-Policy", "same-origin"},
      {"Cross-Origin-Resource-Policy", "same-origin"},
      {"Cache-Control", "no-store"},
  };
}

bool equal_in_constant_time(std::string_view a, std::string_view b) {
  if (a.size() != b.size()) return false;  // the length is no secret
  unsigned difference = 0;
  for (std::size_t i = 0; i < a.size(); ++i)
    difference |= static_cast<unsigned>(static_cast<unsigned char>(a[i]) ^ static_cast<unsigned char>(b[i]));
  return difference == 0;
}

std::string fresh_secret() {
  std::array<unsigned char, kPieceDigits> bytes{};
  if (::getrandom(bytes.data(), bytes.size(), 0) != static_cast<ssize_t>(bytes.size()))
    throw std::runtime_error("the system gave no random numbers");
  constexpr std::string_view digits = "0123456789abcdef";
  std::string out;
  for (const auto byte : bytes) {
    out += digits[byte >> 4U];
    out += digits[byte & 15U];
  }
  return out;
}

std::vector<std::string> lan_addresses() {
  std::vector<std::string> out;
  ifaddrs* all = nullptr;
  if (::getifaddrs(&all) != 0) return out;
  for (const auto* i = all; i != nullptr; i = i->ifa_next) {
    if (i->ifa_addr == nullptr) continue;
    std::array<char, INET6_ADDRSTRLEN> text{};
    if (i->ifa_addr->sa_family == AF_INET) {
      const auto& a = reinterpret_cast<const sockaddr_in*>(i->ifa_addr)->sin_addr;
      const auto number = ntohl(a.s_addr);
      if ((number >> 24U) == 127U || (number >> 16U) == 0xA9FEU) continue;  // 169.254: link-local
      ::inet_ntop(AF_INET, &a, text.data(), text.size());
    } else if (i->ifa_addr->sa_family == AF_INET6) {
      const auto& a = reinterpret_cast<const sockaddr_in6*>(i->ifa_addr)->sin6_addr;
      if (IN6_IS_ADDR_LOOPBACK(&a) || IN6_IS_ADDR_LINKLOCAL(&a)) continue;
      ::inet_ntop(AF_INET6, &a, text.data(), text.size());
    }
    if (text[0] != '\0') out.emplace_back(text.data());
  }
  ::freeifaddrs(all);
  // IPv4 first: shorter to type, and what a home network has.
  const auto four = [](const std::string& a) { return a.find(':') == std::string::npos; };
  std::vector<std::string> ordered;
  std::copy_if(out.begin(), out.end(), std::back_inserter(ordered), four);
  std::copy_if(out.begin(), out.end(), std::back_inserter(ordered), std::not_fn(four));
  return ordered;
}

std::string host_name(std::string_view host) {
  std::string_view name = host, port;
  if (host.starts_with('[')) {
    const auto end = host.find(']');
    if (end == std::string_view::npos) return {};
    name = host.substr(1, end - 1);
    port = host.substr(end + 1);
  } else if (const auto colon = host.find(':'); colon != std::string_view::npos) {
    name = host.substr(0, colon);
    port = host.substr(colon);
  }
  if (!port.empty() && (port.front() != ':' || port.find_first_not_of("0123456789", 1) != std::string_view::npos))
    return {};
  std::string out{name};
  for (char& c : out)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return out;
}

Guard::Guard(Policy policy) : policy_{std::move(policy)}, beyond_{!loopback(policy_.address)} {
  if (policy_.secret.size() < 2 * kPieceDigits) throw std::invalid_argument("the secret is too short");
  // Two cuts of one random secret: neither tells anything of the other.
  token_ = policy_.secret.substr(0, kPieceDigits);
  if (beyond_) key_ = policy_.secret.substr(kPieceDigits);
}

bool Guard::host_allowed(const std::string& name) const {
  if (name == "localhost" || name == "127.0.0.1" || name == "::1") return true;
  if (name.empty() || name == "0.0.0.0" || name == "::") return false;
  if (name == policy_.address) return true;
  if (!beyond_) return false;
  // Asked each time, because a laptop changes its network while Lampside runs.
  const auto lan = policy_.lan();
  return std::find(lan.begin(), lan.end(), name) != lan.end();
}

/// Cookies do not know ports: the name tells the journal, so that two Lampsides on one machine keep theirs apart.
std::string Guard::cookie_name() const { return "lampside_key_" + key_.substr(0, 6); }

std::optional<Guard::Refusal> Guard::refuse(const Request& request) const {
  const auto host = request.header("host");
  if (!host_allowed(host_name(host)))
    return Refusal{421,
                   {"GUARD_HOST", "Lampside is not known under the name in this address",
                    "open the address that Lampside printed when it started"}};
  if (beyond_ && !is_feed(request) && (request.segments.empty() || request.segments.front() != "assets")) {
    const auto cookie = request.cookies.find(cookie_name());
    if (cookie == request.cookies.end() || !equal_in_constant_time(cookie->second, key_))
      return Refusal{403,
                     {"GUARD_KEY", "this device has not been let in yet",
                      "scan the code, or open the whole address with its key, that Lampside printed when it started"}};
  }
  if (request.method != "POST") return std::nullopt;
  // Sent by browsers, and no script of another site can change them. Both may be absent (old browsers, plain tools).
  const auto site = request.header("sec-fetch-site");
  const auto origin = request.header("origin");
  if ((!site.empty() && site != "same-origin") ||
      (!origin.empty() && origin != "http://" + host && origin != "https://" + host))
    return Refusal{403, {"GUARD_ORIGIN", "this form was sent from another site", "open Lampside and use its own form"}};
  const auto token = request.form.find("token");
  if (token == request.form.end() || !equal_in_constant_time(token->second, token_))
    return Refusal{403,
                   {"GUARD_TOKEN", "this form does not carry the token of this journal",
                    "go back, open the page again and send the form from there"}};
  return std::nullopt;
}

bool Guard::is_feed(const Request& request) const {
  return !policy_.feed.empty() && request.method != "POST" && request.segments.size() == 3 &&
         request.segments[0] == "feed" && equal_in_constant_time(request.segments[1], policy_.feed);
}

std::optional<Response> Guard::take_key(const Request& request) const {
  if (!beyond_ || request.method == "POST" || !host_allowed(host_name(request.header("host")))) return std::nullopt;
  const auto key = request.query.find("key");
  if (key == request.query.end() || !equal_in_constant_time(key->second, key_)) return std::nullopt;
  std::string target;
  for (const auto& part : request.segments) target += "/" + percent_encode(part);
  if (target.empty()) target = "/";
  // An empty first part would make "//name", which browsers read as another host.
  if (target.starts_with("//")) target = "/";
  char mark = '?';
  for (const auto& [name, value] : request.query) {
    if (name == "key") continue;
    target += mark + percent_encode(name) + "=" + percent_encode(value);
    mark = '&';
  }
  Response r;
  r.status = 303;
  r.headers = {{"Location", target},
               {"Set-Cookie", cookie_name() + "=" + key_ + "; Path=/; Max-Age=31536000; HttpOnly; SameSite=Strict"}};
  return r;
}

}  // namespace lampside::server
