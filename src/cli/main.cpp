// The command line: the only file that knows the option parser.
#include <CLI/CLI.hpp>

#include "cli/commands.hpp"
#include "cli/shell.hpp"
#include "paper/forms.hpp"

namespace lampside::cli {
namespace {

/// Reads an option's text into `into` with one of our own parsers; what they refuse is wrong usage.
template <class T, class Parse>
CLI::Option* parsed(CLI::App* app, const std::string& name, T& into, Parse parse, const std::string& help) {
  return app->add_option_function<std::string>(
      name,
      [&into, parse, name](const std::string& text) {
        auto value = parse(text);
        if (!value) throw CLI::ValidationError(name, value.error().what + " - " + value.error().todo);
        into = *value;
      },
      help);
}

CLI::Option* at_option(CLI::App* app, std::optional<Moment>& at, const std::string& help) {
  return parsed(app, "--at", at, Moment::parse, help)->type_name("TIME");
}
constexpr const char* kAtHelp = "Stand at this moment; what is dated later is not yet known (see below)";
constexpr const char* kDataHelp = "Folder of the journal (see below)";
constexpr const char* kFooter =
    "\n\nTIME is 2026-03-01T02:30 on the litter's wall clock, or has an offset: 2026-03-01T02:30+01:00.\n"
    "Without --data the journal lies in $LAMPSIDE_DATA, else in $XDG_DATA_HOME/lampside,\n"
    "else in ~/.local/share/lampside.";

CLI::App* command(CLI::App& app, const std::string& name, const std::string& does, const std::string& example) {
  CLI::App* sub = app.add_subcommand(name, does);
  sub->footer("Example:\n  " + example + kFooter);
  return sub;
}

Result<WeightUnit> parse_unit(const std::string& text) {
  if (const auto unit = record::from_name<WeightUnit>(text)) return *unit;
  return problem("UNIT", "\"" + text + "\" is not a unit of weight", "say g, oz, kg or lb");
}
Result<exchange::DateOrder> parse_order(const std::string& text) {
  if (text == "dmy") return exchange::DateOrder::day_month_year;
  if (text == "mdy") return exchange::DateOrder::month_day_year;
  return problem("DATES", "\"" + text + "\" is no order of dates", "say dmy (day first) or mdy (month first)");
}

void source_options(CLI::App* app, Source& source) {
  app->add_option("--data", source.data, kDataHelp)->type_name("DIR");
  app->add_option("--litter", source.litter, "Which litter, when there are several")->type_name("NAME");
  at_option(app, source.at, kAtHelp);
}

int main(int argc, char** argv) {
  CLI::App app{
      "Lampside: what a breeder keeps beside the whelping box. A record that never loses an entry, and the sums that "
      "say what\n"
      "needs a hand now. Your vet's word and your law come first.",
      "lampside"};
  app.require_subcommand(1);
  app.set_version_flag("--version", LAMPSIDE_VERSION);
  app.footer(
      "Each command has --help with an example. Exit code 0: fine, 1: refused or a problem with the data, 2: wrong "
      "usage.");
  int exit_code = fine;

  DemoCommand demo;
  CLI::App* sub = command(app, "demo", "Open an invented litter in the browser; nothing you write in it is kept",
                          "lampside demo --at 2026-10-05T03:55+01:00");
  sub->add_option("--port", demo.port, "Port (default: 8642, or another when it is taken; 0: any free one)")
      ->check(CLI::Range(0, 65535));
  sub->add_option("--listen", demo.address, "Address; 0.0.0.0 for the phones in the house")->capture_default_str();
  at_option(sub, demo.at, "Start at this moment of the story instead, e.g. 2026-10-05T03:55+01:00; the clock runs on");
  sub->callback([&] { exit_code = run(demo); });

  ServeCommand serve;
  sub = command(app, "serve", "Open your own journal in the browser", "lampside serve --data litters");
  sub->add_option("--data", serve.data, kDataHelp)->type_name("DIR");
  sub->add_option("--listen", serve.address, "Address; 0.0.0.0 for the phones in the house, with a key")
      ->capture_default_str();
  sub->add_option("--port", serve.port, "Port; 0: any free one")->check(CLI::Range(0, 65535))->capture_default_str();
  auto* sensors = sub->add_option("--sensors", serve.sensors,
                                  "Listen to room sensors at this MQTT broker (port 1883, or 8883 with --sensors-ca)")
                      ->type_name("HOST[:PORT]");
  auto* user =
      sub->add_option("--sensors-user", serve.sensors_user, "The user it asks for")->type_name("NAME")->needs(sensors);
  sub->add_option("--sensors-password-file", serve.sensors_password_file,
                  "File with the password in its first line; only you may read it (chmod 600)")
      ->type_name("FILE")
      ->needs(user);
  sub->add_option("--sensors-ca", serve.sensors_ca,
                  "Encrypt, and trust only a broker whose certificate was signed by this one (PEM)")
      ->type_name("FILE")
      ->needs(sensors);
  at_option(sub, serve.at, kAtHelp + std::string("; the clock runs on from there"));
  sub->callback([&] { exit_code = run(serve); });

  AssessCommand assess;
  sub = command(app, "assess", "Say what a journal means: what needs a hand, when she is due, how each pup stands",
                "lampside assess demo/juniper.jsonl --at 2026-10-07T04:20");
  sub->add_option("FILE", assess.source.file, "A journal in JSON Lines (default: the journal of the data folder)");
  source_options(sub, assess.source);
  sub->add_flag("--json", assess.json, "As JSON, by docs/assessment.schema.json");
  sub->callback([&] { exit_code = run(assess); });

  TakeInCommand take;
  sub = command(app, "take-in", "Take in a journal (JSON Lines) or a sheet of weights (CSV), whole or not at all",
                "lampside take-in demo/juniper.jsonl --data litters --dry-run");
  sub->add_option("FILE", take.file, "The journal or the sheet")->required();
  sub->add_option("--data", take.data, kDataHelp)->type_name("DIR");
  sub->add_flag("--dry-run", take.dry_run, "Only say how each column was understood, and what would be taken in");
  sub->add_flag(
      "--with-misfits", take.with_misfits,
      "Also take in entries that have no place (a pup never born, a weight before the birth); they are kept and shown");
  at_option(sub, take.at, "The moment taken for now, for telling of entries dated in the future");
  sub->add_option("--litter", take.litter, "A sheet's litter, when there are several or it is new")->type_name("NAME");
  parsed(sub, "--unit", take.unit, parse_unit,
         "A sheet's unit where neither heading nor cell names one: g, oz, kg or lb")
      ->type_name("UNIT");
  parsed(sub, "--dates", take.dates, parse_order, "Dates such as 3/1/2026: dmy or mdy")->type_name("ORDER");
  parsed(sub, "--time", take.time, exchange::parse_clock, "When a sheet without times was weighed (default: 08:00)")
      ->type_name("HH:MM");
  parsed(sub, "--born", take.born, Moment::parse, "Also record the birth of pups not yet known, at this time")
      ->type_name("TIME");
  sub->callback([&] { exit_code = run(take); });

  HandOutCommand hand_out;
  sub = command(app, "hand-out", "Write the journal as text, one entry a line (JSON Lines)",
                "lampside hand-out journal.jsonl --data litters");
  sub->add_option("FILE", hand_out.file, "File to write; - for the terminal")->required();
  sub->add_option("--data", hand_out.data, kDataHelp)->type_name("DIR");
  sub->add_option("--litter", hand_out.litter, "Only this litter")->type_name("NAME");
  sub->add_flag("--force", hand_out.force, "Replace the file if it is there");
  sub->callback([&] { exit_code = run(hand_out); });

  CopyCommand copy;
  sub = command(app, "copy", "Make a safe copy of the store, also while it is being served",
                "lampside copy safe.db --data litters");
  sub->add_option("DEST", copy.to, "New file, or a folder that gets a file named after the day")->required();
  sub->add_option("--data", copy.data, kDataHelp)->type_name("DIR");
  sub->callback([&] { exit_code = run(copy); });

  RestoreCommand restore;
  sub = command(app, "restore", "Put a copy back into a folder that has no journal",
                "lampside restore safe.db --data again");
  sub->add_option("COPY", restore.copy, "A file made by copy")->required();
  sub->add_option("--data", restore.data, kDataHelp)->type_name("DIR");
  sub->callback([&] { exit_code = run(restore); });

  RehearseCommand rehearse;
  sub = command(app, "rehearse", "Simulate litters, to measure how far the forecasts and alarms can be trusted",
                "lampside rehearse due --pregnancies 500 --seed 7");
  CLI::App* due = sub->add_subcommand("due", "The due date: how often its windows hold, against single rules");
  sub->require_subcommand(1);
  due->add_option("--pregnancies", rehearse.pregnancies, "How many to simulate")
      ->check(CLI::Range(10, 1000000))
      ->capture_default_str();
  due->add_option("--seed", rehearse.seed, "The same seed gives the same table")->capture_default_str();
  due->callback([&] { exit_code = run(rehearse); });
  RehearseLabourCommand night;
  CLI::App* labour = sub->add_subcommand("labour", "The night: how often the rules ring, and how long before harm");
  labour->add_option("--normal", night.normal, "How many normal labours to simulate")
      ->check(CLI::Range(10, 1000000))
      ->capture_default_str();
  labour->add_option("--obstructed", night.obstructed, "How many troubled ones")
      ->check(CLI::Range(10, 1000000))
      ->capture_default_str();
  labour->add_option("--seed", night.seed, "The same seed gives the same table")->capture_default_str();
  labour->callback([&] { exit_code = run(night); });
  RehearseWeightsCommand weights;
  CLI::App* scale =
      sub->add_subcommand("weights", "Weights: how early a pup that falls behind is found, at what price");
  scale->add_option("--litters", weights.litters, "How many to simulate")
      ->check(CLI::Range(1, 1000000))
      ->capture_default_str();
  scale->add_option("--seed", weights.seed, "The same seed gives the same table")->capture_default_str();
  scale->add_option("--pups", weights.pups, "In each litter")->check(CLI::Range(1, 16))->capture_default_str();
  scale->add_option("--born-g", weights.birth_g, "Birth weight of the breed, g")
      ->check(CLI::Range(50.0, 1000.0))
      ->capture_default_str();
  scale->add_option("--scale-g", weights.step_g, "The scale's resolution, g")
      ->check(CLI::Range(0.1, 100.0))
      ->capture_default_str();
  scale->add_option("--rounds", weights.rounds_a_day, "Weighings a day")
      ->check(CLI::Range(1, 4))
      ->capture_default_str();
  scale->add_flag("--no-slips", weights.no_slips, "Nothing is written down wrong");
  scale->callback([&] { exit_code = run(weights); });

  PaperCommand paper;
  sub = command(app, "paper", "Write a form to print: to fill in by hand, or filled in",
                "lampside paper weights demo/juniper.jsonl --at 2026-10-14T12:00 --out weights.pdf");
  std::string forms;
  for (const auto& form : paper::form_names()) forms += (forms.empty() ? "" : ", ") + form;
  sub->add_option("FORM", paper.form, forms)->required();
  sub->add_option("FILE", paper.source.file, "A journal in JSON Lines (default: the journal of the data folder)");
  source_options(sub, paper.source);
  sub->add_option("--size", paper.size, "a4 or letter")->capture_default_str();
  sub->add_option(
         "--out", paper.out,
         "PDF to write (default: named after form and litter); - for the terminal; a pup-sheet may end in .png "
         "or .txt")
      ->type_name("FILE");
  sub->add_option("--pup", paper.pup, "The pup a pup-sheet or folder is of (default: every pup at home)")
      ->type_name("LABEL");
  sub->callback([&] { exit_code = run(paper); });

  CalendarCommand calendar;
  sub = command(app, "calendar", "Write the plan of care for the telephone's own calendar (iCalendar)",
                "lampside calendar demo/juniper.jsonl --at 2026-10-07T04:20 --out care.ics");
  sub->add_option("FILE", calendar.source.file, "A journal in JSON Lines (default: the journal of the data folder)");
  source_options(sub, calendar.source);
  sub->add_option("--out", calendar.out, "File to write (default: named after the litter); - for the terminal")
      ->type_name("FILE");
  sub->callback([&] { exit_code = run(calendar); });

  try {
    app.parse(argc, argv);
  } catch (const CLI::Success& help) {
    return app.exit(help);
  } catch (const CLI::ParseError& error) {
    std::string name = "lampside";
    for (const CLI::App* used : app.get_subcommands()) name += " " + used->get_name();
    return fail({"USAGE", error.what(), "see " + name + " --help"}, usage);
  } catch (const std::exception& error) {
    return fail({"BROKEN", std::string("something went wrong inside: ") + error.what(),
                 "nothing was changed; please report this"});
  }
  return exit_code;
}

}  // namespace
}  // namespace lampside::cli

int main(int argc, char** argv) { return lampside::cli::main(argc, argv); }
