#include "client.hpp"

#include <arpa/inet.h>
#include <netinet/in.h>
#include <poll.h>
#include <sys/socket.h>
#include <unistd.h>

#include <nlohmann/json.hpp>
#include <stdexcept>

#include "server/urlencoded.hpp"

namespace lampside::server::test {
namespace {

std::string lower(std::string s) {
  for (char& c : s)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return s;
}

std::string unchunk(std::string_view raw) {
  std::string out;
  while (!raw.empty()) {
    const auto end = raw.find("\r\n");
    if (end == std::string_view::npos) break;
    const auto size = std::stoul(std::string(raw.substr(0, end)), nullptr, 16);
    out += raw.substr(end + 2, size);
    raw.remove_prefix(std::min(end + 2 + size + 2, raw.size()));
  }
  return out;
}

}  // namespace

std::string Answer::header(const std::string& name) const {
  const auto found = headers.find(name);
  return found == headers.end() ? "" : found->second;
}

Connection::Connection(int port) : fd_{::socket(AF_INET, SOCK_STREAM | SOCK_CLOEXEC, 0)} {
  sockaddr_in to{};
  to.sin_family = AF_INET;
  to.sin_port = htons(static_cast<std::uint16_t>(port));
  to.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
  if (fd_ < 0 || ::connect(fd_, reinterpret_cast<sockaddr*>(&to), sizeof to) != 0)
    throw std::runtime_error("cannot connect to the server under test");
}

Connection::~Connection() { ::close(fd_); }

void Connection::send(std::string_view bytes) const {
  while (!bytes.empty()) {
    const auto n = ::send(fd_, bytes.data(), bytes.size(), MSG_NOSIGNAL);
    if (n <= 0) return;
    bytes.remove_prefix(static_cast<std::size_t>(n));
  }
}

std::string Connection::receive(std::chrono::milliseconds patience, std::string_view until) {
  const auto end = std::chrono::steady_clock::now() + patience;
  while (!ended_ && (until.empty() || buffer_.find(until) == std::string::npos)) {
    const auto left = std::chrono::duration_cast<std::chrono::milliseconds>(end - std::chrono::steady_clock::now());
    pollfd p{fd_, POLLIN, 0};
    if (left.count() <= 0 || ::poll(&p, 1, static_cast<int>(left.count())) <= 0) break;
    char bytes[16384];
    const auto n = ::recv(fd_, bytes, sizeof bytes, 0);
    if (n <= 0) {
      ended_ = true;
    } else {
      buffer_.append(bytes, static_cast<std::size_t>(n));
    }
  }
  if (until.empty()) return std::exchange(buffer_, {});
  const auto found = buffer_.find(until);
  const auto size = found == std::string::npos ? buffer_.size() : found + until.size();
  auto out = buffer_.substr(0, size);
  buffer_.erase(0, size);
  return out;
}

Answer Connection::answer(bool head, std::chrono::milliseconds patience) {
  Answer a;
  const auto top = receive(patience, "\r\n\r\n");
  if (top.rfind("HTTP/1.1 ", 0) != 0 || !top.ends_with("\r\n\r\n")) return a;
  a.status = std::stoi(top.substr(9, 3));
  auto line = top.find("\r\n") + 2;
  while (line < top.size() - 2) {
    const auto end = top.find("\r\n", line);
    const auto colon = top.find(": ", line);
    a.headers.emplace(lower(top.substr(line, colon - line)), top.substr(colon + 2, end - colon - 2));
    line = end + 2;
  }
  if (head) return a;
  if (a.header("transfer-encoding") == "chunked") {
    a.body = unchunk(receive(patience, "0\r\n\r\n"));
  } else if (const auto length = a.header("content-length"); !length.empty()) {
    const auto want = std::stoul(length);
    const auto end = std::chrono::steady_clock::now() + patience;
    while (a.body.size() < want && !ended_ && std::chrono::steady_clock::now() < end)
      a.body += receive(std::chrono::milliseconds{buffer_.empty() ? 20 : 0});
    buffer_ = a.body.substr(std::min<std::size_t>(want, a.body.size()));
    a.body.resize(std::min<std::size_t>(want, a.body.size()));
  }
  return a;
}

std::string encode(const Fields& fields) {
  std::string out;
  for (const auto& [name, value] : fields)
    out += (out.empty() ? "" : "&") + percent_encode(name) + "=" + percent_encode(value);
  return out;
}

Answer ask(int port, const std::string& method, const std::string& target, const std::string& headers,
           const std::string& body) {
  Connection c{port};
  std::string out = method + " " + target + " HTTP/1.1\r\n";
  if (lower(headers).find("host:") == std::string::npos) out += "Host: 127.0.0.1:" + std::to_string(port) + "\r\n";
  out += headers;
  if (!body.empty()) out += "Content-Length: " + std::to_string(body.size()) + "\r\n";
  c.send(out + "Connection: close\r\n\r\n" + body);
  return c.answer(method == "HEAD");
}

Answer get(int port, const std::string& target, const std::string& headers) {
  return ask(port, "GET", target, headers);
}

Answer post(int port, const std::string& target, const Fields& fields, const std::string& headers) {
  return ask(port, "POST", target, "Content-Type: application/x-www-form-urlencoded\r\n" + headers, encode(fields));
}

}  // namespace lampside::server::test
