#include "results/brief/brief.h"

#include "quantity/clock.h"
#include "results/balance/names.h"
#include "results/day/day.h"
#include "results/frame/denoised.h"
#include "results/frame/frames.h"
#include "results/frame/maps.h"
#include "results/frame/preview_filter.h"
#include "results/readings/readings.h"
#include "setup/advice/conversation.h"
#include "setup/advice/what_if.h"
#include "setup/plain/catalogues.h"
#include "setup/text/where.h"
#include "setup/text/words.h"

#include <algorithm>
#include <cmath>
#include <set>

namespace rushlight {

namespace {

// How the time of a set-up is shared. Its day takes what it takes beside it: as a rule less than half as much.
constexpr double for_the_first = 0.36, for_the_map = 0.20, for_the_others = 0.34, for_frames = 0.55;
constexpr double of_a_day = 0.4, shortest_day = 1;
constexpr double overhead = 2.5;  // s for each option: building the scene, taking noise out of the frame, glints

/// Traces the light of one source at the places where it will be measured.
double for_a_reading(const BriefWish& wish) {
    return std::clamp(0.1 * wish.seconds, 0.2, 2.0);
}

bool light_from_outside(const Setup& s) {
    return !s.day.dark && !(s.place.room.openings.empty() && s.place.model_openings.empty());
}

/// What each part of a brief is predicted to take, s.
double predicted_options(std::size_t count, const BriefWish& wish) {
    return wish.seconds + static_cast<double>(count) * overhead;
}
double predicted_day(const Setup& s, const BriefWish& wish) {
    return light_from_outside(s) ? std::max(shortest_day, of_a_day * wish.seconds) : 0;
}

/// Replaces an effort's progress report by one about the whole brief: what is left takes as much longer or shorter
/// than predicted as what is done has.
class Teller {
public:
    Teller(const Effort& effort, double predicted) : effort_(effort), predicted_(predicted) {}
    void is_through(double predicted) {
        through_ += predicted;
        slower_ = std::clamp(clock_.seconds() / through_, 0.5, 5.0);
    }
    Effort of(double seconds) const {
        Effort e = effort_;
        e.relative_error = 0;
        e.seconds = seconds;
        e.tell = nullptr;
        if (effort_.tell)
            e.tell = [this](const Progress& p) {
                const double gone = clock_.seconds();
                const double whole = std::max(predicted_ * slower_, gone * 1.02);
                effort_.tell({std::min(gone / whole, 0.99), whole - gone, p.error});
            };
        return e;
    }
    void done() const {
        if (effort_.tell) effort_.tell({1, 0, 0});
    }
    double seconds() const { return clock_.seconds(); }

private:
    const Effort& effort_;
    double predicted_, through_ = 0, slower_ = 1;
    Clock clock_;
};

BriefFrame small_frame(const LayeredFrame& traced) {
    BriefFrame f;
    f.width = traced.width;
    f.height = traced.height;
    f.sources = traced.sources;
    f.camera = traced.camera;
    f.noise = traced.noise;
    std::vector<Vec3> sum = preview_correction(traced);
    for (const auto& layer : traced.layers)
        for (std::size_t p = 0; p < sum.size(); ++p) {
            const Tristimulus t = tristimulus(layer[p]);
            sum[p] += Vec3(static_cast<float>(t.x), static_cast<float>(t.y), static_cast<float>(t.z));
        }
    f.layers = shared_out(traced, sum, {});
    return f;
}

bool same_place(const Vec3& a, const Vec3& b) {
    return (a - b).length() < 1e-4F;
}

template <class T>
const T* of_name(const std::vector<T>& things, const std::string& name) {
    const auto it = std::find_if(things.begin(), things.end(), [&](const T& t) { return t.name == name; });
    return it == things.end() ? nullptr : &*it;
}

/// Level, gel and place of a lamp that are other than before, in words; "" where none is.
std::string lamp_differs(const Lamp& was, const Lamp& is) {
    std::string words;
    const auto say = [&](const std::string& w) { words += (words.empty() ? "" : ", ") + w; };
    if (was.on && !is.on) say("off");
    if (!was.on && is.on) say("on");
    if (is.on && std::abs(was.level - is.level) > 1e-6) say(plain(std::round(1000 * is.level) / 10) + " %");
    if (was.gel_words != is.gel_words) say(is.gel_words.empty() ? "no gel" : is.gel_words);
    if (!same_place(was.at, is.at)) say("moved");
    if (same_place(was.at, is.at) && !same_place(was.aim, is.aim)) say("aimed elsewhere");
    if (words.empty() && was.kit_item != is.kit_item) say(is.kit_item);
    return words;
}

/// What an option does to the rig of the first, a line each: "key 25 %", "black away", "white board in".
std::vector<std::string> what_differs(const Setup& first, const Setup& option) {
    std::vector<std::string> lines;
    const auto &a = first.rig, &b = option.rig;
    for (const Lamp& l : b.lamps) {
        const Lamp* was = of_name(a.lamps, l.name);
        const std::string words = was ? lamp_differs(*was, l) : "in";
        if (!words.empty()) lines.push_back(l.name + ": " + words);
    }
    for (const Panel& p : b.panels) {
        const Panel* was = of_name(a.panels, p.name);
        if (!was)
            lines.push_back(p.name + ": in");
        else if (!same_place(was->at, p.at) || !same_place(was->facing, p.facing))
            lines.push_back(p.name + ": moved");
        else if (was->finish.name != p.finish.name)
            lines.push_back(p.name + ": " + p.finish.name);
    }
    for (const Lamp& l : a.lamps)
        if (!of_name(b.lamps, l.name)) lines.push_back(l.name + ": away");
    for (const Panel& p : a.panels)
        if (!of_name(b.panels, p.name)) lines.push_back(p.name + ": away");
    for (const Mark& m : b.marks)
        if (const Mark* was = of_name(a.marks, m.name); was && !same_place(was->at, m.at))
            lines.push_back(m.name + ": has moved");
    const Day &was = first.day, &is = option.day;
    if (was.dark != is.dark) lines.emplace_back(is.dark ? "dark outside" : "daylight");
    if (was.clock_hours != is.clock_hours) lines.push_back("at " + clock_text(is.clock_hours));
    if (was.sky.cie_type != is.sky.cie_type || was.sky.sun != is.sky.sun)
        lines.push_back("sky " + sky_words(is.sky.cie_type, is.sky.sun));
    return lines;
}

std::string stand_words(const Kit& kit, const std::string& like) {
    const KitItem* item = kit.item(like);
    if (item == nullptr || item->stand.empty()) return "";
    return item->stands > 1 ? std::to_string(item->stands) + " " + item->stand + "s" : item->stand;
}

class Maker {
public:
    Maker(const SetupFile& file, const BriefPlan& plan, const BriefWish& wish, const Effort& effort,
          const LayerCache& cache)
        : file_(file), plan_(plan), wish_(wish), effort_(effort), cache_(cache), teller_(effort, plan.seconds) {}

    Brief make() {
        brief_.title = file_.title();
        brief_.hours = wish_.hours;
        brief_.hours_given = wish_.hours_given;
        for (const auto& options : plan_.setups) {
            if (effort_.stopped()) break;
            add_setup(options);
            teller_.is_through(predicted_options(options.size(), wish_) + predicted_day(options.front(), wish_));
        }
        if (effort_.stopped()) return std::move(brief_);
        check_targets_of_all();
        put_in_order();
        for (std::size_t i = 0; i < brief_.setups.size(); ++i)
            for (std::size_t j = i + 1; j < brief_.setups.size(); ++j)
                if (const Sheet& a = brief_.setups[i].sheet(), &b = brief_.setups[j].sheet(); are_two_sides(a, b))
                    brief_.matches.push_back(match_of(a, b));
        add_what_to_measure();
        brief_.kit = kit_over_all(brief_.setups, file_.kit());
        brief_.kit_owned = file_.kit().owned();
        std::vector<Setup> first;
        for (const BriefSetup& s : brief_.setups) first.push_back(s.setup());
        brief_.remarks = file_.remarks();
        brief_.remarks.insert(brief_.remarks.end(), plan_.remarks.begin(), plan_.remarks.end());
        for (std::string& r : crossed_line_remarks(first)) brief_.remarks.push_back(std::move(r));
        brief_.cautions = brief_cautions(brief_);
        brief_.seconds = teller_.seconds();
        teller_.done();
        return std::move(brief_);
    }

private:
    void add_setup(const std::vector<Setup>& options) {
        BriefSetup s;
        const double others = options.size() > 1 ? for_the_others / static_cast<double>(options.size() - 1) : 0.0;
        for (Setup asked : options) {
            if (effort_.stopped()) return;
            const bool first = s.options.empty();
            // One exposure for all: what an option does to the picture is to be seen.
            if (!first && asked.camera >= 0 && s.setup().its_camera() != nullptr)
                asked.rig.cameras[static_cast<std::size_t>(asked.camera)].exposure = s.setup().exposure();
            const double time = wish_.seconds * (first ? for_the_first : others);
            BriefOption o;
            o.setup = asked;
            const Setup traced = to_trace(asked, asked);
            const Scene scene = build_scene(traced);
            KeptLight light(traced, asked, cache_);
            o.sheet = take_readings(asked, scene, teller_.of(time * (1 - for_frames)), light);
            if (asked.camera >= 0) {
                o.frame = small_frame(trace_frame(asked, scene, plan_.width, height_of(*asked.its_camera()),
                                                  teller_.of(time * for_frames), light));
                // A map's colours change slowly: each point is a meter, and a third as many across will do.
                if (first)
                    s.map = map_view(asked, scene, std::max(16, plan_.width / 3),
                                     std::max(9, height_of(*asked.its_camera()) / 3),
                                     teller_.of(wish_.seconds * for_the_map), light);
            }
            if (!first) {
                o.sheet.changes = changes(s.sheet(), o.sheet);
                o.sheet.against = s.setup().option;
                o.differs = what_differs(s.setup(), asked);
            }
            s.options.push_back(std::move(o));
        }
        s.kit = kit_list(s.setup(), file_.kit());
        for (const Lamp& l : s.setup().rig.lamps) s.stands.emplace_back(l.name, stand_words(file_.kit(), l.kit_item));
        for (const Panel& p : s.setup().rig.panels) s.stands.emplace_back(p.name, stand_words(file_.kit(), p.kit_item));
        if (light_from_outside(s.setup())) take_its_day(s);
        brief_.setups.push_back(std::move(s));
    }

    void take_its_day(BriefSetup& s) {
        if (brief_.weathers.empty()) {
            const Weather own = weather_of_sky(s.setup().day);
            brief_.weathers = {own, own == Weather::overcast ? Weather::clear : Weather::overcast};
        }
        Effort e = teller_.of(0);
        e.relative_error = 0.1;
        e.most_seconds = std::max(shortest_day, wish_.seconds);
        s.day = take_day(s.setup(), wish_.hours, brief_.weathers, e);
    }

    void check_targets_of_all() {
        std::vector<Sheet> sheets;
        for (const BriefSetup& s : brief_.setups) sheets.push_back(s.sheet());
        for (BriefSetup& s : brief_.setups) {
            if (s.setup().targets.empty() || effort_.stopped()) continue;
            const Setup traced = to_trace(s.setup(), s.setup());
            KeptLight light(traced, s.setup(), cache_);
            s.targets = check_targets(s.setup(), build_scene(traced), sheets, teller_.of(0.1 * wish_.seconds), light);
        }
    }

    void put_in_order() {
        if (brief_.setups.size() < 2) return;
        std::vector<Weather> weathers = brief_.weathers;
        if (weathers.empty()) weathers.push_back(Weather::overcast);
        for (const Weather w : weathers) {
            std::vector<ToShoot> list;
            for (const BriefSetup& s : brief_.setups) {
                list.push_back(to_shoot(s.setup(), s.day ? &*s.day : nullptr, w));
                const ToShoot& last = list.back();
                if (!last.any_hour || last.free_from > 0 || last.free_until < 24) brief_.by_the_clock = true;
            }
            brief_.orders.push_back(shooting_order(list, wish_.hours.from, wish_.hours.to, w));
        }
        std::vector<DayCourse> days;
        std::vector<double> times;
        for (std::size_t i = 0; i < brief_.setups.size(); ++i) {
            if (!brief_.setups[i].day) continue;
            days.push_back(*brief_.setups[i].day);
            for (const Shot& shot : brief_.orders.front().shots)
                if (shot.number == i) times.push_back((shot.from + shot.to) / 2);
        }
        if (days.size() > 1 && times.size() == days.size())
            brief_.mismatches = mismatches(days, weathers.front(), times);
    }

    /// The place as found comes first: a curtain that an option draws is not there on arrival.
    void add_what_to_measure() {
        std::vector<std::string> done;
        for (const bool as_found : {true, false})
            for (const auto& options : plan_.setups)
                for (const Setup& s : options) {
                    if ((s.option == as_found_name) != as_found || effort_.stopped()) continue;
                    for (ToMeasure& m : to_measure(s, teller_.of(for_a_reading(wish_)), done))
                        brief_.to_measure.push_back(std::move(m));
                }
    }

    int height_of(const Camera& c) const {
        return std::clamp(static_cast<int>(std::lround(plan_.width * c.sensor_height / c.sensor_width)), 1, 4096);
    }

    const SetupFile& file_;
    const BriefPlan& plan_;
    const BriefWish& wish_;
    const Effort& effort_;
    const LayerCache& cache_;
    Teller teller_;
    Brief brief_;
};

}  // namespace

std::string BriefSetup::stand_of(const std::string& thing) const {
    for (const auto& [name, stand] : stands)
        if (name == thing) return stand;
    return "";
}

std::size_t BriefPlan::options() const {
    std::size_t sum = 0;
    for (const auto& s : setups) sum += s.size();
    return sum;
}

namespace {

/// A target that a set-up has not is left out there, and said; one that none of them has is a slip of the pen.
void leave_out_unreadable(BriefPlan& plan) {
    std::vector<std::pair<std::string, std::string>> troubles;  // where, and what; in the order of the file
    std::set<std::string> read;
    for (auto& options : plan.setups) {
        Setup& first = options.front();
        if (first.targets.empty()) continue;
        const std::vector<NamedInBalance> found = named_in_balance(first, build_scene(first));
        std::vector<Target> kept;
        for (std::size_t i = 0; i < first.targets.size() && i < found.size(); ++i) {
            if (found[i].trouble.empty()) {
                read.insert(found[i].where);
                kept.push_back(first.targets[i]);
                continue;
            }
            if (std::none_of(troubles.begin(), troubles.end(),
                             [&](const auto& t) { return t.first == found[i].where; }))
                troubles.emplace_back(found[i].where, found[i].trouble);
            plan.remarks.push_back(found[i].trouble);
        }
        for (Setup& s : options) s.targets = kept;
    }
    std::string slips;
    for (const auto& [where, trouble] : troubles)
        if (read.count(where) == 0) slips += (slips.empty() ? "" : "\n") + trouble;
    if (!slips.empty()) throw InputError(slips);
}

}  // namespace

BriefPlan plan_brief(const SetupFile& file, const BriefWish& wish) {
    BriefPlan plan;
    const std::string planned = wish.option.empty() ? as_found_name : wish.option;
    bool met = false;
    for (const std::string& name : file.setup_names()) {
        if (!wish.setup.empty() && name != wish.setup) continue;
        const auto offered = file.option_names(name);
        const bool has = std::find(offered.begin(), offered.end(), planned) != offered.end();
        met = met || has;
        std::vector<Setup> options{file.setup(name, has ? planned : as_found_name)};
        for (const std::string& option : offered)
            if (option != options.front().option) options.push_back(file.setup(name, option));
        plan.setups.push_back(std::move(options));
    }
    if (plan.setups.empty()) file.setup(wish.setup, as_found_name);  // says which are there
    if (!met) file.setup(plan.setups.front().front().name, planned);
    leave_out_unreadable(plan);
    // Layers of all frames are held at once; they get smaller before they get too many.
    constexpr double most_bytes = 256e6;
    double bytes = 0;
    for (const auto& options : plan.setups)
        for (const Setup& s : options)
            if (s.camera >= 0)
                bytes += wish.width * wish.width * s.its_camera()->sensor_height / s.its_camera()->sensor_width *
                         static_cast<double>((s.rig.lamps.size() + 3) * sizeof(Vec3));
    plan.width =
        std::max(64, static_cast<int>(wish.width * std::min(1.0, std::sqrt(most_bytes / std::max(bytes, 1.0)))));
    for (const auto& options : plan.setups)
        plan.seconds += predicted_options(options.size(), wish) + predicted_day(options.front(), wish);
    return plan;
}

Brief make_brief(const SetupFile& file, const BriefPlan& plan, const BriefWish& wish, const Effort& effort,
                 const LayerCache& cache) {
    return Maker(file, plan, wish, effort, cache).make();
}

}  // namespace rushlight
