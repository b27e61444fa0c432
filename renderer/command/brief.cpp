#include "results/brief/brief.h"
#include "command/commands.h"
#include "command/interrupt.h"
#include "command/options.h"
#include "command/outputs.h"
#include "command/run.h"
#include "pictures/brief/data.h"
#include "pictures/brief/page.h"
#include "pictures/brief/pages.h"
#include "pictures/draw/paper.h"
#include "pictures/files/write_folder.h"
#include "pictures/plan/plan.h"
#include "pictures/words/printable.h"
#include "quantity/clock.h"
#include "setup/text/inputs.h"
#include "setup/text/where.h"
#include "setup/text/whole_file.h"
#include "setup/text/words.h"

#include <algorithm>
#include <cstdio>

namespace rushlight::command {

namespace {

struct BriefOptions {
    FileOptions file;
    LightOptions light;
    EffortOptions effort;
    std::string output, whom = "all", units = "metric", paper = "a4", from, to;
    bool fresh = false;
};

/// The place of `word` among `valid`. Throws InputError with the nearest one.
std::size_t one_of(const std::string& word, const std::vector<std::string>& valid, const char* option) {
    const auto it = std::find(valid.begin(), valid.end(), tidy(word));
    if (it == valid.end())
        throw InputError(std::string(option) + ": unknown part " + in_quotes(word) + hint(tidy(word), valid));
    return static_cast<std::size_t>(it - valid.begin());
}

BriefLook look_of(const BriefOptions& o) {
    BriefLook look;
    std::vector<std::string> words;
    for (const BriefForWord& w : brief_for_words()) words.emplace_back(w.word);
    look.whom = brief_for_words()[one_of(o.whom, words, "--for")].whom;
    look.units = one_of(o.units, {"metric", "imperial"}, "--units") == 0 ? BriefUnits::metric : BriefUnits::imperial;
    return look;
}

constexpr const char* data_name = "brief.json";

/// Files that an earlier brief wrote there, by its own list.
std::vector<std::string> files_of_earlier(const std::filesystem::path& folder) {
    constexpr std::size_t most = 100'000'000;  // bytes
    try {
        return files_of_brief(whole_file(folder / data_name, most, "the data of a brief"));
    } catch (const InputError&) {
        return {};  // none is there, or something that no brief wrote
    }
}

void expect_own_folder(const std::filesystem::path& folder) {
    expect_folder_writable(folder);
    std::error_code none;
    for (const auto& entry : std::filesystem::directory_iterator(folder, none))
        if (entry.path().filename() != data_name && is_input(entry.path()))
            throw InputError("the folder " + in_quotes(folder.string()) + " holds " +
                             in_quotes(entry.path().filename().string()) +
                             ", which is read by this command: choose another folder with -o");
    const std::vector<std::string> strangers = strangers_in(folder, files_of_earlier(folder));
    if (strangers.empty()) return;
    throw InputError("the folder " + in_quotes(folder.string()) + " holds " + in_quotes(strangers.front()) +
                     (strangers.size() > 1 ? " and " + std::to_string(strangers.size() - 1) + " more" : "") +
                     " that no brief wrote: choose another folder with -o, or move it away");
}

std::string plan_name(const BriefSetup& s, std::size_t number) {
    return file_stem("plan-" + std::to_string(number + 1), s.setup().name, as_found_name) + ".svg";
}

std::string megabytes(std::size_t bytes) {
    char text[32];
    std::snprintf(text, sizeof text, "%.1f MB", static_cast<double>(bytes) / 1e6);
    return text;
}

void brief(const BriefOptions& o) {
    const BriefLook look = look_of(o);
    const PageSize paper = one_of(o.paper, {"a4", "letter"}, "--paper") == 0 ? a4_page : letter_page;
    const SetupFile file = SetupFile::read(o.file.file, until_interrupted());
    BriefWish wish;
    wish.setup = o.file.setup;
    wish.option = o.file.option;
    if (!o.effort.time.empty()) wish.seconds = seconds(o.effort.time);
    const double step = wish.hours.step;
    wish.hours = working_hours(file, o.from, o.to);
    wish.hours.step = step;
    wish.hours_given = file.working_hours() || !o.from.empty() || !o.to.empty();
    if (wish.hours.to < wish.hours.from + 1)
        throw InputError("--to " + in_quotes(clock_text(wish.hours.to)) + " must lie at least an hour after --from " +
                         in_quotes(clock_text(wish.hours.from)));
    BriefPlan plan = plan_brief(file, wish);
    const std::filesystem::path folder = o.output;
    expect_own_folder(folder);
    expect_letters();
    const Effort effort = o.effort.effort(0, wish.seconds, "brief", EffortOptions::Bounds::a_part);
    if (o.fresh) kept_checkpoints().begin_anew();
    for (auto& options : plan.setups)
        for (Setup& s : options) s = with(o.light.what_if, as_measured(s, effort));
    say_aside("%zu set-up%s with %zu option%s in all: about %s\n", plan.setups.size(),
              plan.setups.size() == 1 ? "" : "s", plan.options(), plan.options() == 1 ? "" : "s",
              for_people(plan.seconds).c_str());

    Brief b = make_brief(file, plan, wish, effort, o.fresh ? LayerCache({}) : LayerCache::of_this_person(team()));
    if (interrupted()) {
        say_aside("rushlight: stopped; no brief was written: half a brief misleads\n");
        return;
    }
    std::vector<FolderFile> files;
    const BriefPage page = brief_page(b, look);
    const BriefPages pages = brief_pages(b, look, paper);
    files.push_back({"brief.html", printable(page.html)});
    files.push_back({"brief.pdf", pages.pdf});
    files.push_back({"brief.csv", printable(brief_csv(b))});
    for (std::size_t i = 0; i < b.setups.size(); ++i) {
        PlanLook drawn;
        drawn.units = look.units;
        files.push_back({plan_name(b.setups[i], i), plan_svg(b.setups[i].setup(), {720, 560}, drawn)});
    }
    std::vector<std::string> names{data_name};
    for (const FolderFile& f : files) names.push_back(f.name);
    files.push_back({data_name, brief_json(b, names)});
    expect_own_folder(folder);  // somebody may have put something there since
    something_reached().store(true);
    write_folder(folder, files);

    tell_remarks(b.remarks);
    say("%s   (%s", (folder / "brief.html").c_str(), megabytes(page.html.size()).c_str());
    if (page.fader_width > 0)
        say(", of which the faders' layers, %d pixels across, %s", page.fader_width,
            megabytes(page.layer_bytes).c_str());
    else
        say("; too many layers for pictures under the faders: readings only. Fewer set-ups have them: --setup");
    say(")\n%s   (%d pages, %s)\n", (folder / "brief.pdf").c_str(), pages.pages, megabytes(pages.pdf.size()).c_str());
    say("%s and brief.json, the plans as SVG\n%.0f s\n", (folder / "brief.csv").c_str(), b.seconds);
}

}  // namespace

void add_brief(CLI::App& app) {
    auto o = std::make_shared<BriefOptions>();
    CLI::App* c = app.add_subcommand("brief", "the pages for the director and the crew");
    c->footer(
        "Writes a folder: one page for a browser, complete in itself, no network needed; the same as a PDF; the\n"
        "numbers as CSV and JSON; a plan of each set-up as SVG. First a cover with the frames and the order to shoot "
        "in,\n"
        "with a reason for each place; then one page a set-up to pin up: frame, key numbers, lamps with level, gel "
        "and\n"
        "stand, the plan to scale with distances from the walls; what moves from one set-up to the next; options side\n"
        "by side; power and kit; cautions; what to measure on arrival and what to write back into the file. In the\n"
        "browser the director moves a fader for every source.\n\n"
        "The option named with --option is the plan; the others are shown beside it. Without it, as found.\n"
        "A folder that an earlier brief wrote is replaced; one with anything else in it is refused.\n\n"
        "  rushlight brief scenes/workshop.toml -o workshop-brief\n"
        "  rushlight brief scenes/workshop.toml -o for-the-gaffer --for lighting --option \"black on the room side\"\n"
        "  rushlight brief scenes/kitchen-night.toml -o kitchen --units imperial --paper letter --time 60s");
    o->file.add_to(*c);
    c->get_option("--setup")->description("only this set-up (default: all of them)");
    c->get_option("--option")->description("which option is the plan; set-ups without it stay as found");
    o->light.add_levels_to(*c, "");
    o->effort.add_to(*c, "");
    c->remove_option(c->get_option("--error"));
    c->get_option("--time")->description(
        "how long to trace each set-up, options included (default: 15s); the total is shown first");
    c->add_option("-o,--output", o->output, "the folder to write")->required();
    c->add_option("--for", o->whom, "whose pages: director, camera, lighting, art, all")->capture_default_str();
    c->add_option("--units", o->units, "metric, or imperial: feet, footcandles, pounds")->capture_default_str();
    c->add_option("--paper", o->paper, "a4 or letter")->capture_default_str();
    c->add_option("--from", o->from, "first hour of the working day (default: the file's hours, else 07:00)");
    c->add_option("--to", o->to, "last hour (default: the file's hours, else 19:00)");
    c->add_flag("--fresh", o->fresh, "trace again instead of using cached layers");
    c->callback([o] { brief(*o); });
}

}  // namespace rushlight::command
