#include "sensor/listener.hpp"

#include <arpa/inet.h>
#include <fmt/format.h>
#include <gtest/gtest.h>
#include <mosquitto.h>
#include <netinet/in.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <atomic>
#include <csignal>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <thread>

#include "advice/assessment.hpp"
#include "record/litter.hpp"

namespace lampside::sensor {
namespace {

using namespace std::chrono_literals;

Instant machine_now() { return std::chrono::floor<Span>(std::chrono::system_clock::now()); }
std::string id() {
  static std::atomic<unsigned> n{0};
  return fmt::format("00000000-0000-4000-8000-{:012x}", ++n);
}
template <class F>
bool soon(F holds, std::chrono::seconds span = 30s) {
  for (const auto end = std::chrono::steady_clock::now() + span; std::chrono::steady_clock::now() < end;
       std::this_thread::sleep_for(10ms))
    if (holds()) return true;
  return false;
}

class Folder {
 public:
  Folder() {
    std::string name = (std::filesystem::temp_directory_path() / "lampside-sensor-XXXXXX").string();
    path = mkdtemp(name.data());
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  ~Folder() {
    std::error_code ignored;
    std::filesystem::remove_all(path, ignored);
  }
  std::filesystem::path path;
};

int free_port() {
  const int s = socket(AF_INET, SOCK_STREAM, 0);
  sockaddr_in a{};
  a.sin_family = AF_INET;
  a.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
  socklen_t size = sizeof a;
  bind(s, reinterpret_cast<sockaddr*>(&a), size);          // NOLINT: the sockets' own way
  getsockname(s, reinterpret_cast<sockaddr*>(&a), &size);  // NOLINT
  close(s);
  return ntohs(a.sin_port);
}

/// Debian's mosquitto on loopback, for as long as it lives.
class BrokerProcess {
 public:
  /// `more`: lines of its configuration. Run by root it would give up root, and then not read what lies in our folder.
  BrokerProcess(const std::filesystem::path& folder, int port, const std::string& more = "allow_anonymous true\n") {
    const auto conf = folder / "broker.conf";
    std::ofstream(conf) << "user root\nlistener " << port << " 127.0.0.1\nmax_queued_messages 0\npersistence false\n"
                        << "log_type none\n"
                        << more;
    const auto file = conf.string();
    process_ = fork();
    if (process_ == 0) {
      execl(MOSQUITTO_BROKER, "mosquitto", "-c", file.c_str(), static_cast<char*>(nullptr));
      _exit(127);
    }
  }
  BrokerProcess(const BrokerProcess&) = delete;
  BrokerProcess& operator=(const BrokerProcess&) = delete;
  ~BrokerProcess() {
    kill(process_, SIGKILL);
    waitpid(process_, nullptr, 0);
  }

 private:
  pid_t process_;
};

/// A room sensor: publishes and waits until the broker has taken everything.
class Publisher {
 public:
  explicit Publisher(int port, const Broker& as = {}) : client_{mosquitto_new(nullptr, true, this)} {
    if (!as.user.empty()) mosquitto_username_pw_set(client_, as.user.c_str(), as.password.value_or("").c_str());
    if (!as.ca_file.empty()) mosquitto_tls_set(client_, as.ca_file.c_str(), nullptr, nullptr, nullptr, nullptr);
    mosquitto_publish_callback_set(client_,
                                   [](mosquitto*, void* self, int) { ++static_cast<Publisher*>(self)->done_; });
    soon([&] { return mosquitto_connect(client_, "127.0.0.1", port, 20) == MOSQ_ERR_SUCCESS; });
    mosquitto_loop_start(client_);
  }
  Publisher(const Publisher&) = delete;
  Publisher& operator=(const Publisher&) = delete;
  ~Publisher() {
    mosquitto_disconnect(client_);
    mosquitto_loop_stop(client_, true);
    mosquitto_destroy(client_);
  }
  void send(const std::string& topic, const std::string& text, bool retain = false) {
    ++sent_;
    ASSERT_EQ(mosquitto_publish(client_, nullptr, topic.c_str(), static_cast<int>(text.size()), text.data(), 1, retain),
              MOSQ_ERR_SUCCESS);
  }
  bool all_taken() {
    return soon([&] { return done_ == sent_; });
  }

 private:
  mosquitto* client_;
  std::atomic<int> done_{0};
  int sent_ = 0;
};

/// A journal that can be made to refuse, over a real one.
class Stubborn final : public store::Journal {
 public:
  explicit Stubborn(store::Journal& real) : real_{real} {}
  std::atomic<bool> refuses{false};
  Result<store::Receipt> append(std::span<const record::Entry> e) override {
    if (refuses) return problem("STORE_FULL", "the disk is full", "make room");
    return real_.append(e);
  }
  Result<std::vector<record::Entry>> read(std::uint64_t from) override { return real_.read(from); }
  Result<void> take_out(std::span<const record::Entry> e) override { return real_.take_out(e); }
  Result<std::uint64_t> count() override { return real_.count(); }
  Result<void> copy_to(const std::string& path) override { return real_.copy_to(path); }
  Result<std::string> setting(const std::string& n, const std::string& a) override { return real_.setting(n, a); }
  store::People& people() override { return real_.people(); }

 private:
  store::Journal& real_;
};

class Sensors : public ::testing::Test {
 protected:
  void SetUp() override {
    if (!std::filesystem::exists(MOSQUITTO_BROKER)) GTEST_SKIP() << "no mosquitto on this machine: install it";
    real_ = *store::open_sqlite(folder_.path.string());
    journal_ = std::make_unique<Stubborn>(*real_);
    const Instant now = machine_now();
    record::Birth birth;
    birth.grams = Grams{400};
    tell(now - std::chrono::hours{48}, "1", birth);
    tell(now - std::chrono::hours{1}, "",
         record::Sensor{"box/lamp", record::AirPlace::under_lamp, "temperature", {}, {}});
    broker();
  }
  void tell(Instant at, std::string about, record::Body body) {
    const auto e = record::make_entry("10" + id().substr(2), "juniper", Stamp{at}, Stamp{at}, "test", std::move(about),
                                      std::move(body));
    ASSERT_TRUE(journal_->append(std::span{&e, 1}));
  }
  void broker() { broker_ = std::make_unique<BrokerProcess>(folder_.path, port_); }
  std::unique_ptr<Listener> listening() { return listening({"127.0.0.1", port_}); }
  std::unique_ptr<Listener> listening(Broker at) {
    auto out = listen({.broker = std::move(at),
                       .journal = *journal_,
                       .clock = [this] { return machine_now() + Minutes{ahead_min_.load()}; },
                       .fresh_id = id,
                       .reference = reference::built_in(),
                       .say = {}});
    EXPECT_TRUE(out);
    return out ? std::move(*out) : nullptr;
  }
  /// Listening and subscribed: a message that is sent until one arrives.
  void ready(const Listener& listener, Publisher& sensor) {
    ASSERT_TRUE(soon([&] {
      sensor.send("box/lamp", R"({"temperature":30.5})");
      std::this_thread::sleep_for(50ms);
      return listener.heard().messages > 0;
    }));
    ASSERT_TRUE(sensor.all_taken());
    std::this_thread::sleep_for(500ms);
  }
  std::vector<double> readings() {
    std::vector<double> out;
    const auto all = *real_->read();  // held: a loop over a temporary would read what is gone
    for (const auto& e : all)
      if (const auto* air = record::body_as<record::Air>(e)) out.push_back(air->celsius.count());
    return out;
  }
  record::Litter litter() { return record::fold(*real_->read(), "juniper", Zone{}); }

  Folder folder_;
  int port_ = free_port();
  std::atomic<int> ahead_min_{0};
  std::unique_ptr<store::Journal> real_;
  std::unique_ptr<Stubborn> journal_;
  std::unique_ptr<BrokerProcess> broker_;
};

TEST_F(Sensors, AReadingReachesTheJournalAndATopicAddedLaterIsHeard) {
  const auto listener = listening();
  Publisher sensor{port_};
  ready(*listener, sensor);
  ASSERT_TRUE(soon([&] { return readings() == std::vector{30.5}; })) << fmt::format(
      "{}; kept {}, pending {}", fmt::join(readings(), " "), listener->heard().kept, listener->heard().waiting);
  const auto entries = *real_->read();
  EXPECT_EQ(record::body_as<record::Air>(entries.back())->sensor, "box/lamp");
  EXPECT_EQ(entries.back().by, "sensor");

  tell(machine_now(), "", record::Sensor{"room/plain", record::AirPlace::room, {}, {}, {}});
  EXPECT_TRUE(soon([&] {
    sensor.send("room/plain", "19.5");
    std::this_thread::sleep_for(100ms);
    return readings() == std::vector{30.5, 19.5};
  }));
}

TEST_F(Sensors, AThousandASecondNoneIsLostAndTheJournalStaysSmall) {
  const auto listener = listening();
  Publisher sensor{port_};
  ready(*listener, sensor);
  const auto before = listener->heard().messages;
  constexpr int kMessages = 5'000;
  rusage start{}, end{};
  getrusage(RUSAGE_SELF, &start);
  const auto began = std::chrono::steady_clock::now();
  for (int i = 0; i < kMessages; ++i) {
    sensor.send("box/lamp", fmt::format(R"({{"temperature":{:.2f},"humidity":55}})", 30.5 + 0.01 * (i % 7)));
    if (i % 100 == 99) std::this_thread::sleep_until(began + std::chrono::milliseconds{i + 1});
  }
  ASSERT_TRUE(soon([&] { return listener->heard().messages - before >= kMessages; }));
  const std::chrono::duration<double> took = std::chrono::steady_clock::now() - began;
  getrusage(RUSAGE_SELF, &end);
  const auto cpu = [](const rusage& r) {
    return static_cast<double>(r.ru_utime.tv_sec + r.ru_stime.tv_sec) +
           1e-6 * static_cast<double>(r.ru_utime.tv_usec + r.ru_stime.tv_usec);
  };
  fmt::print("{} messages in {:.2f} s, sender and listener together {:.2f} s of processor time\n", kMessages,
             took.count(), cpu(end) - cpu(start));
  EXPECT_EQ(listener->heard().messages - before, static_cast<std::uint64_t>(kMessages));
  EXPECT_LE(readings().size(), 3u) << "nothing happened: nothing is worth keeping";
}

TEST_F(Sensors, ABrokerThatGoesIsToldOfAndFoundAgain) {
  auto listener = listening();
  {
    Publisher sensor{port_};
    ready(*listener, sensor);
  }
  ASSERT_TRUE(soon([&] { return readings().size() == 1; }));
  broker_.reset();
  ASSERT_TRUE(soon([&] { return !listener->heard().connected; }));
  const auto told = listener->findings(litter(), machine_now() + Minutes{60});
  ASSERT_EQ(told.size(), 1u);
  EXPECT_EQ(told[0].code, "SENSOR_BROKER");
  ahead_min_ = 60;  // an hour later
  broker();
  ASSERT_TRUE(soon([&] { return listener->heard().connected; }, 60s));
  EXPECT_TRUE(listener->findings(litter(), machine_now() + Minutes{60}).empty());
  Publisher sensor{port_};
  EXPECT_TRUE(soon([&] {
    sensor.send("box/lamp", R"({"temperature":28})");
    std::this_thread::sleep_for(100ms);
    return readings() == std::vector{30.5, 28.0};
  }));
}

TEST_F(Sensors, WhatWasSentWhileNobodyListenedDoesNotPassForAReadingOfNow) {
  {
    const auto listener = listening();
    Publisher sensor{port_};
    ready(*listener, sensor);
    ASSERT_TRUE(soon([&] { return listener->heard().kept == 1; }));
  }
  Publisher sensor{port_};
  sensor.send("box/lamp", R"({"temperature":27})");
  ASSERT_TRUE(sensor.all_taken());
  const auto listener = listening();
  EXPECT_TRUE(soon([&] {
    sensor.send("box/lamp", R"({"temperature":26})");
    std::this_thread::sleep_for(100ms);
    return readings() == std::vector{30.5, 26.0};
  })) << ::testing::PrintToString(readings());
}

TEST_F(Sensors, WhatTheJournalCannotTakeWaitsAndIsNotLost) {
  const auto listener = listening();
  Publisher sensor{port_};
  ready(*listener, sensor);
  ASSERT_TRUE(soon([&] { return listener->heard().kept == 1; }));
  journal_->refuses = true;
  sensor.send("box/lamp", R"({"temperature":25})");
  ASSERT_TRUE(soon([&] { return listener->heard().waiting == 1; }));
  EXPECT_EQ(readings().size(), 1u);
  broker_.reset();  // nor is it lost with the broker
  journal_->refuses = false;
  EXPECT_TRUE(soon([&] { return readings() == std::vector{30.5, 25.0}; }));
}

TEST_F(Sensors, ARetainedMessageIsNoReading) {
  {
    Publisher sensor{port_};
    sensor.send("box/lamp", R"({"temperature":12})", true);
    ASSERT_TRUE(sensor.all_taken());
  }
  const auto listener = listening();
  ASSERT_TRUE(soon([&] { return listener->heard().messages == 1; }));
  EXPECT_TRUE(readings().empty());
}

/// A file that only its owner can read.
std::string secret(const std::filesystem::path& path, const std::string& text, mode_t mode = 0600) {
  std::ofstream(path) << text;
  chmod(path.c_str(), mode);
  return path.string();
}
bool ran(const std::string& command) { return std::system((command + " >/dev/null 2>&1").c_str()) == 0; }  // NOLINT

// A broker with a password file, as mosquitto_passwd makes it.
TEST_F(Sensors, ABrokerThatAsksForAPassword) {
  const auto file = (folder_.path / "passwords").string();
  if (!ran("mosquitto_passwd -b -c " + file + " lampside 'a word of ours'")) GTEST_SKIP() << "no mosquitto_passwd";
  broker_.reset();
  broker_ = std::make_unique<BrokerProcess>(folder_.path, port_, "allow_anonymous false\npassword_file " + file + "\n");
  Broker known{"127.0.0.1", port_, "lampside", *read_password(secret(folder_.path / "word", "a word of ours\n")), {}};
  {
    Publisher sensor{port_, known};
    const auto listener = listening(known);
    ready(*listener, sensor);
    EXPECT_TRUE(soon([&] { return readings() == std::vector{30.5}; }));
  }
  for (const auto& wrong : {Broker{"127.0.0.1", port_}, Broker{"127.0.0.1", port_, "lampside", "another word", {}}}) {
    const auto listener = listening(wrong);
    ASSERT_TRUE(soon([&] { return !listener->findings(litter(), machine_now() + Minutes{2}).empty(); }));
    const auto told = listener->findings(litter(), machine_now() + Minutes{2});
    EXPECT_EQ(told[0].code, "SENSOR_BROKER");
    EXPECT_NE(told[0].because.find("not authorised"), std::string::npos) << told[0].because;
    EXPECT_EQ(told[0].because.find("another word"), std::string::npos) << "the password is never shown";
    EXPECT_FALSE(listener->heard().connected);
  }
}

// A broker that encrypts; and one whose certificate somebody else signed.
TEST_F(Sensors, ABrokerThatEncrypts) {
  const auto path = [&](const char* name) { return (folder_.path / name).string(); };
  const auto certificate = [&](const std::string& name) {
    return ran(
        "openssl req -x509 -newkey rsa:2048 -nodes -days 2 -subj /CN=127.0.0.1 -addext "
        "subjectAltName=IP:127.0.0.1 -keyout " +
        path("") + name + ".key -out " + path("") + name + ".pem");
  };
  if (!certificate("ours") || !certificate("other")) GTEST_SKIP() << "no openssl on this machine";
  broker_.reset();
  broker_ = std::make_unique<BrokerProcess>(
      folder_.path, port_,
      "allow_anonymous true\ncertfile " + path("ours.pem") + "\nkeyfile " + path("ours.key") + "\n");
  const Broker ours{"127.0.0.1", port_, {}, {}, path("ours.pem")};
  {
    Publisher sensor{port_, ours};
    const auto listener = listening(ours);
    ready(*listener, sensor);
    EXPECT_TRUE(soon([&] { return readings() == std::vector{30.5}; }));
  }
  for (const auto& not_theirs : {Broker{"127.0.0.1", port_, {}, {}, path("other.pem")}, Broker{"127.0.0.1", port_}}) {
    const auto listener = listening(not_theirs);
    ASSERT_TRUE(soon([&] { return !listener->findings(litter(), machine_now() + Minutes{2}).empty(); }));
    EXPECT_FALSE(listener->heard().connected);
  }
  const auto none = listen({.broker = {"127.0.0.1", port_, {}, {}, path("nothing.pem")},
                            .journal = *journal_,
                            .clock = machine_now,
                            .fresh_id = id,
                            .reference = reference::built_in(),
                            .say = {}});
  ASSERT_FALSE(none);
  EXPECT_EQ(none.error().code, "SENSORS_CA");
}

// Cold in the box, over a real broker, until the journal says it to whoever reads it: at once, once, and until it is
// half a degree inside again.
TEST_F(Sensors, AnAlarmIsInTheJournalForWhoeverAssessesIt) {
  const auto listener = listening();
  Publisher sensor{port_};
  ready(*listener, sensor);
  const auto cold = [&] {
    const auto a = advice::assess(litter(), reference::built_in(), machine_now() + Minutes{ahead_min_.load()});
    return std::any_of(a.findings.begin(), a.findings.end(), [](const auto& f) { return f.code == "BOX_COLD"; });
  };
  const auto send = [&](double celsius, std::size_t kept) {
    sensor.send("box/lamp", fmt::format(R"({{"temperature":{}}})", celsius));
    return soon([&] { return readings().size() >= kept; }, 10s);
  };
  ASSERT_TRUE(soon([&] { return readings().size() == 1; }));
  EXPECT_FALSE(cold());
  ASSERT_TRUE(send(28.9, 2)) << "an alarm is not thinned";
  EXPECT_TRUE(cold());
  ahead_min_ = 6;
  ASSERT_TRUE(send(29.6, 3)) << "it moved";
  EXPECT_TRUE(cold()) << "back, but not by half a degree";
  ahead_min_ = 12;
  ASSERT_TRUE(send(30.4, 4));
  EXPECT_FALSE(cold());
}

TEST(Broker, PasswordsAreReadFromAFileOfOnesOwn) {
  const Folder folder;
  EXPECT_EQ(*read_password(secret(folder.path / "a", "a word\r\nsecond line\n")), "a word");
  for (const auto& [name, text, mode] :
       {std::tuple{"open", "a word\n", 0644}, {"group", "a word\n", 0640}, {"empty", "\n", 0600}}) {
    const auto refused = read_password(secret(folder.path / name, text, static_cast<mode_t>(mode)));
    ASSERT_FALSE(refused) << name;
    EXPECT_EQ(refused.error().code, "SENSORS_PASSWORD");
  }
  EXPECT_FALSE(read_password((folder.path / "nothing").string()));
}

TEST(Broker, AddressIsRead) {
  EXPECT_EQ(parse_broker("box.local", kTlsPort)->port, 8883);
  EXPECT_EQ(parse_broker("box.local")->port, 1883);
  EXPECT_EQ(parse_broker("192.168.1.20:1884")->port, 1884);
  EXPECT_EQ(parse_broker("[::1]:1884")->host, "::1");
  EXPECT_EQ(parse_broker("::1")->host, "::1");
  for (const char* wrong : {"", ":1883", "host:", "host:0", "host:65536", "host:x", "[::1", "[::1]x", "mqtt://host"})
    EXPECT_FALSE(parse_broker(wrong)) << wrong;
}

}  // namespace
}  // namespace lampside::sensor
