// serve and demo: the pages, until Ctrl-C.
#include "server/serve.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include "cli/commands.hpp"
#include "cli/demo_files.hpp"
#include "cli/files.hpp"
#include "cli/shell.hpp"
#include "exchange/jsonl.hpp"
#include "zone/zone.hpp"

#include <sstream>

namespace lampside::cli {
namespace {

/// Wall time without an offset is the only litter's; with several, or none, this machine's.
Result<Instant> moment_of(const Moment& at, store::Journal& journal) {
  const auto entries = journal.read();
  if (!entries) return tl::unexpected(entries.error());
  const auto litters = record::litters_in(*entries);
  const auto zone = zone::load(litters.size() == 1 ? record::zone_name(*entries, litters.front()) : zone::local_name());
  if (!zone) return tl::unexpected(zone.error());
  return at.in(*zone);
}

struct Address {
  std::string address;
  int port;
};

Result<std::unique_ptr<server::Running>> start(const Address& where, store::Journal& journal,
                                               const std::optional<Moment>& at) {
  server::ServeOptions options{where.address, where.port, machine_now, journal};
  if (at) {
    const auto moment = moment_of(*at, journal);
    if (!moment) return tl::unexpected(moment.error());
    options.clock = running_from(*moment);
    options.future = server::Future::known;
  }
  return server::serve(std::move(options));
}

Result<void> greet(const server::Running& running, const std::string& what) {
  std::string text = what + "\n\n";
  for (const auto& url : running.urls()) text += "  " + url + "\n";
  if (isatty(STDOUT_FILENO) == 1) text += "\n" + running.qr();
  return print(text + "\nCtrl-C stops it.\n");
}

}  // namespace

int run(const ServeCommand& command) {
  const StopSignals signals;
  const auto folder = data_folder(command.data);
  if (!folder) return fail(folder.error());
  auto journal = store::open_sqlite(*folder);
  if (!journal) return fail(journal.error());
  const auto running = start({command.address, command.port}, **journal, command.at);
  if (!running) return fail(running.error());
  if (auto greeted = greet(**running, fmt::format("Lampside keeps its journal in {}. Open:", *folder)); !greeted)
    return fail(greeted.error());
  signals.wait();
  return fine;
}

int run(const DemoCommand& command) {
  const StopSignals signals;
  std::istringstream file{std::string(juniper_jsonl)};
  const auto taken = exchange::read_jsonl(file);
  if (!taken) return fail(taken.error());
  const auto folder = TemporaryFolder::make();
  if (!folder) return fail(folder.error());
  auto journal = store::open_sqlite(folder->path());
  if (!journal) return fail(journal.error());
  if (auto kept = (*journal)->append(taken->entries); !kept) return fail(kept.error());

  std::string opens_at{moment_txt};
  while (opens_at.ends_with('\n')) opens_at.pop_back();
  const auto moment = command.at ? Result<Moment>{*command.at} : Moment::parse(opens_at);
  if (!moment) return fail(moment.error());
  auto running = start({command.address, command.port.value_or(8642)}, **journal, *moment);
  if (!running && running.error().code == "LISTEN_BUSY" && !command.port)
    running = start({command.address, 0}, **journal, *moment);
  if (!running) return fail(running.error());
  if (auto greeted =
          greet(**running, "The demo: an invented litter. What you write in it is forgotten when it stops. Open:");
      !greeted)
    return fail(greeted.error());
  signals.wait();
  return fine;
}

}  // namespace lampside::cli
