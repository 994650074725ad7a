// Where the broker is, and the password it asks for.
#include <fmt/format.h>
#include <sys/stat.h>

#include <charconv>
#include <fstream>

#include "sensor/listener.hpp"

namespace lampside::sensor {

Result<Broker> parse_broker(const std::string& text, int usual_port) {
  Broker out;
  out.port = usual_port;
  std::string port;
  const auto wrong = [&] {
    return problem("SENSORS_ADDRESS", fmt::format("\"{}\" is no address of a broker", text),
                   "write HOST or HOST:PORT, e.g. 192.168.1.20:1883");
  };
  if (text.starts_with('[')) {
    const auto end = text.find(']');
    if (end == std::string::npos) return wrong();
    out.host = text.substr(1, end - 1);
    const auto rest = text.substr(end + 1);
    if (!rest.empty() && (rest[0] != ':' || rest.size() == 1)) return wrong();
    port = rest.empty() ? "" : rest.substr(1);
  } else if (const auto colon = text.find(':');
             colon != std::string::npos && text.find(':', colon + 1) == std::string::npos) {
    out.host = text.substr(0, colon);
    port = text.substr(colon + 1);
    if (port.empty()) return wrong();
  } else {
    out.host = text;
  }
  if (out.host.empty() || out.host.find_first_of(" /") != std::string::npos) return wrong();
  if (!port.empty()) {
    const auto [end, ec] = std::from_chars(port.data(), port.data() + port.size(), out.port);
    if (ec != std::errc{} || end != port.data() + port.size() || out.port < 1 || out.port > 65535) return wrong();
  }
  return out;
}

Result<std::string> read_password(const std::string& path) {
  struct stat about{};
  std::ifstream in(path);
  if (!in || stat(path.c_str(), &about) != 0)
    return problem("SENSORS_PASSWORD", path + " cannot be read", "name the file that holds the broker's password");
  if (S_ISREG(about.st_mode) && (about.st_mode & (S_IRWXG | S_IRWXO)) != 0)
    return problem("SENSORS_PASSWORD", path + " can be read by others on this computer", "chmod 600 " + path);
  std::string line;
  std::getline(in, line);
  while (!line.empty() && (line.back() == '\r' || line.back() == '\n')) line.pop_back();
  if (line.empty() || line.size() > 1000)
    return problem("SENSORS_PASSWORD", path + " holds no password in its first line",
                   "write the password, and nothing else, in its first line");
  return line;
}

}  // namespace lampside::sensor
