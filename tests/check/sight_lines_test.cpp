// Sightlines over a whole path: reasons apart, blockers, shares of path, and what is said.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "measure/angle.h"
#include "sight_scene.h"
#include "support/random.h"

using namespace standpoint;
using namespace standpoint::support;

namespace {

// A short path with one lane: the first station is the only eye, at `eye`.
void stand_at(SightScene& scene, const glm::dvec3& eye) {
    scene.set_path({{eye.x, eye.y}, {eye.x + 100, eye.y}}, 10);
    scene.set_visitors({adult(eye.z, 100)});
}

Sight sight_at(SightScene& scene, const glm::dvec3& eye) {
    stand_at(scene, eye);
    return sightlines_of(scene.staging()).targets.at(0).sights.at(0);
}

const Finding* finding_of(const std::vector<Finding>& findings, Grade grade) {
    const auto at = std::find_if(findings.begin(), findings.end(),
                                 [&](const Finding& f) { return f.grade == grade; });
    return at == findings.end() ? nullptr : &*at;
}

struct Apart {                  // two runs of sightlines over the same stations
    double worst = 0, mean = 0; // of V
};

Apart apart(const Sightlines& a, const Sightlines& b) {
    Apart out;
    double sum = 0, count = 0;
    REQUIRE(a.targets.size() == b.targets.size());
    for (std::size_t t = 0; t < a.targets.size(); ++t) {
        REQUIRE(a.targets[t].sights.size() == b.targets[t].sights.size());
        for (std::size_t i = 0; i < a.targets[t].sights.size(); ++i) {
            const Sight &x = a.targets[t].sights[i], &y = b.targets[t].sights[i];
            CHECK(std::abs(x.angle_across - y.angle_across) < 0.1);
            CHECK(x.outside_cone == y.outside_cone);
            out.worst = std::max(out.worst, std::abs(x.share - y.share));
            sum += x.share - y.share;
            count += 1;
        }
    }
    out.mean = std::abs(sum / count);
    return out;
}

// A corner of the landing: a hut, crates, a mast, a pane, and two things to see among them.
SightScene landing(std::uint64_t seed) {
    Random random(seed);
    SightScene scene;
    scene.add("seller", CapsuleForm{450, 1700}, {200, 600, 0}, 0, 0, 1, 0, PieceKind::figure);
    scene.add("hut", WallForm{1500, 60, 2000, {{500, 900, 500, 700}}}, {200, 100, 0}, 12);
    scene.add("buoy", SphereForm{500}, {-700, 200, 300});
    scene.add("mast", CylinderForm{90, 3000}, {random.uniform(-500, 500), -500, 0}, 0, 4);
    scene.add("pane", BoxForm{700, 8, 1900}, {-600, -700, 0}, 20, 0, 1, 0.8f);
    for (int i = 0; i < 3; ++i)
        scene.add("crate-" + std::to_string(i),
                  BoxForm{random.uniform(200, 500), random.uniform(200, 500), 400},
                  {random.uniform(-1200, 1200), random.uniform(-900, -300), random.uniform(0, 900)},
                  random.uniform(0, 90));
    scene.add_target("seller-face", "seller").patch = {
        {}, Point3{-300, -300, 1300}, Point3{300, 0, 1700}};
    scene.add_target("buoy", "buoy");
    scene.set_visitors({adult(), adult(1050, 300)});
    Visitor child = adult(1050, 300);
    child.id = child.name = "child";
    child.share = 0.2;
    scene.set_visitors({adult(), child});
    return scene;
}

} // namespace

TEST_CASE("every reason for not seeing is told apart, on both sides of its limit") {
    SightScene scene;
    scene.add("sign", BoxForm{400, 20, 300}, {0, 0, 1450});
    Target& target = scene.add_target("sign", "sign");
    target.patch = {{}, Point3{-200, -10, 0}, Point3{200, -10, 300}};
    const glm::dvec3 front(0, -3000, 1600);

    CHECK(sight_at(scene, front).reason == SightReason::seen);
    CHECK(sight_at(scene, {0, 3000, 1600}).reason == SightReason::turned_away);
    CHECK(sight_at(scene, {0, 3000, 1600}).share == 0);

    target.facing = Angle(0);
    target.facing_limit = Angle(45);
    CHECK(sight_at(scene, {-2950, -3000, 1600}).reason == SightReason::seen);
    CHECK(sight_at(scene, {-3050, -3000, 1600}).reason == SightReason::beyond_facing);
    target.facing = Angle(90); // clockwise seen from above: from the front to the visitor's left
    CHECK(sight_at(scene, {-3050, -3000, 1600}).reason == SightReason::seen);
    CHECK(sight_at(scene, {3050, -3000, 1600}).reason == SightReason::beyond_facing);
    target.facing.reset();

    target.smallest_detail = Length(3);
    const double far = 3 / (3.0 / 60 * std::acos(-1.0) / 180); // where 3 mm are 3 arcmin
    CHECK(sight_at(scene, {0, -far + 5, 1600}).reason == SightReason::seen);
    CHECK(sight_at(scene, {0, -far - 15, 1600}).reason == SightReason::too_far);
    target.smallest_detail.reset();

    // Apparent size: the diagonal of 500 mm is 1/3 degree at 85.9 m.
    const double small = 250 / std::tan(to_radians(1.0 / 6));
    CHECK(sight_at(scene, {0, -small + 100, 1600}).reason == SightReason::seen);
    CHECK(sight_at(scene, {0, -small - 200, 1600}).reason == SightReason::too_far);

    // A board that leaves a little more, and a little less, than 70 %.
    for (const double share : {0.67, 0.73}) {
        SightScene behind = scene;
        behind.add("board", BoxForm{2000, 1, 3000}, {200 - 400 * (1 - share) + 1000, -11, 0});
        const Sight sight = sight_at(behind, front);
        CHECK(std::abs(sight.share - share) < 0.02);
        CHECK(sight.reason == (share < 0.7 ? SightReason::hidden_by_others : SightReason::seen));
    }
}

TEST_CASE("a figure's face is seen to 100 degrees off, a page of anything else to 60") {
    for (const PieceKind kind : {PieceKind::figure, PieceKind::prop}) {
        const double limit = kind == PieceKind::figure ? 100 : 60;
        for (const double over : {-1.0, 1.0}) {
            SightScene scene;
            scene.add("seller", SphereForm{300}, {0, 0, 1450}, 0, 0, 1, 0, kind);
            scene.add_target("seller", "seller").facing = Angle(0);
            const SinCos at = sin_cos_deg(limit + over); // clockwise from the front, at eye level
            const Sight sight = sight_at(scene, {-3000 * at.sin, -3000 * at.cos, 1600});
            CHECK((sight.reason == SightReason::beyond_facing) == (over > 0));
        }
    }
}

TEST_CASE("a threshold of the target itself stands in for the rule") {
    SightScene scene;
    scene.add("buoy", SphereForm{400}, {0, 0, 1400});
    scene.add("wall", BoxForm{1000, 10, 3000}, {500, -1500, 0});
    Target& target = scene.add_target("buoy", "buoy");
    CHECK(sight_at(scene, {0, -3000, 1600}).reason == SightReason::hidden_by_others);
    target.seen_share = Number(0.4);
    CHECK(sight_at(scene, {0, -3000, 1600}).reason == SightReason::seen);
    target.seen_share = Number(0.6);
    CHECK(sight_at(scene, {0, -3000, 1600}).reason == SightReason::hidden_by_others);
}

TEST_CASE("a face turned from the visitor is hidden by itself, or turned away") {
    SightScene scene;
    // A trough: its inner back wall is the target, its own front wall hides it.
    const ExtrusionForm trough{{{-300, -200},
                                {300, -200},
                                {300, 200},
                                {-300, 200},
                                {-300, 180},
                                {280, 180},
                                {280, -180},
                                {-300, -180}},
                               500};
    const std::uint32_t piece = scene.add("trough", trough, {0, 0, 1200});
    scene.add_target("inside", "trough").patch = {{}, Point3{-300, 180, 0}, Point3{280, 180, 500}};
    const Sight sight = sight_at(scene, {0, -3000, 1450});
    CHECK(sight.reason == SightReason::hidden_by_self);
    CHECK(sight.alone > 0);
    REQUIRE(sight.blockers.size() == 1);
    CHECK(sight.blockers[0].piece == piece);
    CHECK(std::abs(sight.share + sight.blockers[0].gain - 1) < 1e-12);
    // From the open end it is seen.
    CHECK(sight_at(scene, {-4000, -100, 1450}).share > 0.9);
}

TEST_CASE("glass dims by what it lets through, and what is behind two panes by both") {
    SightScene scene;
    scene.add("buoy", SphereForm{300}, {0, 0, 1450});
    scene.add_target("buoy", "buoy");
    const std::uint32_t pane =
        scene.add("pane", BoxForm{2000, 4, 3000}, {0, -500, 0}, 0, 0, 1, 0.9f);
    const double once = std::pow(static_cast<double>(0.9f), 2); // in at one face, out at the other
    Sight sight = sight_at(scene, {0, -3000, 1600});
    CHECK(std::abs(sight.share - once) < 1e-9);
    CHECK(sight.reason == SightReason::seen);
    REQUIRE(sight.blockers.size() == 1);
    CHECK(sight.blockers[0].piece == pane);
    CHECK(std::abs(sight.blockers[0].gain - (1 - once)) < 1e-9);

    scene.add("second-pane", BoxForm{2000, 4, 3000}, {0, -700, 0}, 0, 0, 1, 0.9f);
    sight = sight_at(scene, {0, -3000, 1600});
    CHECK(std::abs(sight.share - once * once) < 1e-9);
    CHECK(sight.reason == SightReason::hidden_by_others);
    REQUIRE(sight.blockers.size() == 2); // equal gains: document order
    CHECK(sight.blockers[0].piece == pane);
    CHECK(std::abs(sight.blockers[0].gain - (once - once * once)) < 1e-9);

    // With a wall across as well, no piece alone brings anything but the wall.
    const std::uint32_t wall = scene.add("wall", BoxForm{2000, 10, 3000}, {0, -900, 0});
    sight = sight_at(scene, {0, -3000, 1600});
    CHECK(sight.share == 0);
    REQUIRE(sight.blockers.size() == 1);
    CHECK(sight.blockers[0].piece == wall);
    CHECK(std::abs(sight.blockers[0].gain - once * once) < 1e-9);
}

TEST_CASE("two walls one behind the other: taking away either alone gains nothing") {
    SightScene scene;
    scene.add("buoy", SphereForm{300}, {0, 0, 1450});
    scene.add("wall", BoxForm{2000, 10, 3000}, {0, -900, 0});
    scene.add("second-wall", BoxForm{2000, 10, 3000}, {0, -700, 0});
    scene.add_target("buoy", "buoy");
    const Sight sight = sight_at(scene, {0, -3000, 1600});
    CHECK(sight.share == 0);
    CHECK(sight.blockers.empty());
    CHECK(sight.reason == SightReason::hidden_by_others);
}

TEST_CASE("taking a blocker away gives exactly the share it was said to cost") {
    int blockers = 0;
    for (const std::uint64_t seed : {1u, 2u, 3u}) {
        const SightScene scene = landing(seed);
        const Staging staging = scene.staging();
        const Sightlines before = sightlines_of(staging, fixed_samples(16));
        for (const std::uint32_t piece : {3u, 4u, 5u, 6u, 7u}) {
            SightScene without = scene;
            without.remove(staging.pieces[piece].id);
            const Sightlines after = sightlines_of(without.staging(), fixed_samples(16));
            for (std::size_t t = 0; t < before.targets.size(); ++t)
                for (std::size_t i = 0; i < before.targets[t].sights.size(); ++i) {
                    const Sight& sight = before.targets[t].sights[i];
                    double gain = 0;
                    for (const Blocker& blocker : sight.blockers)
                        if (blocker.piece == piece) gain = blocker.gain;
                    if (gain > 0) ++blockers;
                    CHECK(std::abs(sight.share + gain - after.targets[t].sights[i].share) < 1e-9);
                }
        }
    }
    CHECK(blockers > 100); // so that the property was tried at all
}

TEST_CASE("the brute-force twin gives the same sightlines") {
    const Staging staging = landing(4).staging();
    const auto rules = rules_in_force({}).value();
    const SightOptions options = fixed_samples(8);
    const auto fast = make_ray_index(staging);
    const auto slow = make_brute_force(staging);
    const Sightlines a = check_sightlines(staging, *fast, rules, options, {}).value();
    const Sightlines b = check_sightlines(staging, *slow, rules, options, {}).value();
    CHECK(results_json(staging, results_of(staging, a)) ==
          results_json(staging, results_of(staging, b)));
}

TEST_CASE("the number of threads changes no byte") {
    SightScene scene = landing(5);
    scene.add_target("hidden-buoy", "buoy", Aim::hide);
    const Staging staging = scene.staging();
    const auto bytes = [&](unsigned threads) {
        return results_json(
            staging, results_of(staging, sightlines_of(staging, fixed_samples(16, threads))));
    };
    const std::string one = bytes(1);
    CHECK(one == bytes(3));
    CHECK(one == bytes(2));
}

TEST_CASE("a target's sights depend on nothing but itself, its visitor and its station") {
    SightScene scene = landing(6);
    const Sightlines all = sightlines_of(scene.staging(), fixed_samples(16));
    SightScene alone;
    alone = landing(6);
    alone.set_visitors({adult()});
    alone.add_target("another", "mast");
    const Sightlines fewer = sightlines_of(alone.staging(), fixed_samples(16));
    // Targets of the first: seller by adult, by child, buoy by adult, ...
    for (const auto& [a, b] : {std::pair<std::size_t, std::size_t>{0, 0}, {2, 1}}) {
        REQUIRE(all.targets[a].target == fewer.targets[b].target);
        for (std::size_t i = 0; i < all.targets[a].sights.size(); ++i) {
            CHECK(all.targets[a].sights[i].share == fewer.targets[b].sights[i].share);
            CHECK(all.targets[a].sights[i].alone == fewer.targets[b].sights[i].alone);
        }
    }
}

TEST_CASE("moving and turning the whole scene changes nothing but the samples") {
    SightScene scene = landing(7);
    const Sightlines before = sightlines_of(scene.staging());
    // Other samples: where coordinates differ in their last bits, so may the order of triangles.
    // Each run is within 0.02 at 95 %; the worst of many pairs lies a bit outside.
    const Frame moves[] = {{rotation_of(0, 0, 0), {12345, -6789, 0}},
                           {rotation_of(-37, 0, 0), {-3000, 20000, 0}},
                           {rotation_of(90, 0, 0), {0, 0, 0}}};
    for (const Frame& move : moves) {
        scene.move_all(move);
        const Apart moved = apart(before, sightlines_of(scene.staging()));
        CHECK(moved.worst < 0.05);
        CHECK(moved.mean < 0.005);
    }
}

TEST_CASE("share of path, first sight and the longest run are those of the stations") {
    SightScene scene;
    scene.add("buoy", SphereForm{300}, {0, 0, 1450});
    // A long wall hides it from the first half of the path.
    scene.add("wall", BoxForm{3000, 10, 3000}, {-1500, -1000, 0});
    scene.add_target("buoy", "buoy");
    scene.set_path({{-4000, -2000}, {4000, -2000}}, 10);
    scene.set_visitors({adult(1600, 100)});
    const Sightlines lines = sightlines_of(scene.staging());
    REQUIRE(lines.targets.size() == 1);
    const TargetSights& sights = lines.targets[0];
    // The wall's end lies at X = 0 half-way to the path: the middle of the buoy comes out there.
    REQUIRE(sights.first_seen.has_value());
    CHECK(*sights.first_seen == 4250);
    CHECK(sights.longest_run == 8000 - 4250);
    CHECK(std::abs(sights.share_of_path - (8000 - 4250 + 125) / 8000.0) < 1e-9);
    const Finding* note = finding_of(lines.findings, Grade::note);
    REQUIRE(note != nullptr);
    CHECK(note->message == "\"buoy\" is first seen at 4250 mm, by an adult, and from 48.4 % of the "
                           "path on average");
    CHECK(finding_of(lines.findings, Grade::fail) == nullptr);
}

TEST_CASE("a sight must hold for 1.5 m of path: shorter fails, as long passes") {
    for (const double gap : {1400.0, 2200.0}) {
        SightScene scene;
        scene.add("buoy", SphereForm{100}, {0, 0, 1550});
        // Two walls close to the path leave a gap to look through.
        const double end = gap / 2;
        scene.add("left-wall", BoxForm{6000, 10, 3000}, {-3000 - end, -1990, 0});
        scene.add("right-wall", BoxForm{6000, 10, 3000}, {3000 + end, -1990, 0});
        scene.add_target("buoy", "buoy");
        scene.set_path({{-4000, -2000}, {4000, -2000}}, 10);
        scene.set_visitors({adult(1600, 100)});
        const Sightlines lines = sightlines_of(scene.staging());
        const Finding* fail = finding_of(lines.findings, Grade::fail);
        CHECK((fail != nullptr) == (gap < 1500));
        if (fail == nullptr) continue;
        CHECK(fail->rule == "unbroken-sight.default");
        CHECK(*fail->required == 1500);
        CHECK(*fail->measured == 1000); // stations from -500 to 500
        CHECK(fail->message.find("\"buoy\" is seen over 1000 mm at most, not over an unbroken "
                                 "1500 mm by an adult:") == 0);
    }
}

TEST_CASE("a hidden target fails and names the worst blocker, what it costs and where") {
    SightScene scene;
    scene.add("seller", CapsuleForm{450, 1700}, {0, 600, 0}, 0, 0, 1, 0, PieceKind::figure);
    const std::uint32_t stall = scene.add("stall", BoxForm{5000, 400, 2500}, {0, 0, 0});
    Target& target = scene.add_target("seller-face", "seller");
    target.name = "the seller's face";
    const Staging staging = scene.staging();
    const Sightlines lines = sightlines_of(staging);
    const Finding* fail = finding_of(lines.findings, Grade::fail);
    REQUIRE(fail != nullptr);
    CHECK(fail->check == "sightlines");
    CHECK(fail->subject == "seller-face");
    REQUIRE(fail->pieces.size() == 2);
    CHECK(fail->pieces[0] == "stall");
    CHECK(fail->pieces[1] == "seller");
    CHECK(*fail->place == staging.pieces[stall].box.centre());
    CHECK(fail->rule == "seen-share.default");
    CHECK(fail->source == "common practice");
    CHECK(*fail->measured == 0);
    CHECK(*fail->required == 0.7);
    CHECK(fail->message == "\"the seller's face\" is not seen over an unbroken 1500 mm by an "
                           "adult: at 0 mm an adult sees 0 % of it and needs 70 %; without "
                           "\"the stall\" it would be 100 %");
}

TEST_CASE("the blocker named is the one that costs most along the path, quoted where it does") {
    SightScene scene;
    scene.add("buoy", SphereForm{300}, {0, 0, 1450});
    // The post is in the way at two stations, the wall at most of them.
    scene.add("post", BoxForm{500, 10, 3000}, {-1000, -1900, 0});
    scene.add("wall", BoxForm{3500, 10, 3000}, {1500, -1900, 0});
    scene.add_target("buoy", "buoy");
    scene.set_path({{-1500, -2000}, {3500, -2000}}, 10);
    scene.set_visitors({adult(1600, 100)});
    RuleChoice rules;
    rules.own = {{"unbroken-sight", "3 m", ""}};
    scene.set_rules(rules);
    const Sightlines lines = sightlines_of(scene.staging());
    const Finding* fail = finding_of(lines.findings, Grade::fail);
    REQUIRE(fail != nullptr);
    CHECK(fail->pieces == std::vector<std::string>{"wall", "buoy"});
    CHECK(fail->rule == "unbroken-sight.own");
    CHECK(*fail->required == 3000);
    CHECK(*fail->measured < 3000);
    const auto station = static_cast<std::size_t>(*fail->distance / station_step_mm);
    CHECK(lines.targets[0].sights[station * lane_count].share < 0.1);
    CHECK(lines.targets[0].sights[station * lane_count].blockers.at(0).piece == 2);
}

TEST_CASE("what cannot be cured by moving a piece is said in its own words") {
    SightScene scene;
    scene.add("sign", BoxForm{400, 20, 300}, {0, 0, 1450});
    Target& target = scene.add_target("sign", "sign");
    target.patch = {{}, Point3{-200, -10, 0}, Point3{200, -10, 300}};
    const auto said = [&] {
        const Sightlines lines = sightlines_of(scene.staging());
        const Finding* fail = finding_of(lines.findings, Grade::fail);
        REQUIRE(fail != nullptr);
        CHECK(fail->pieces == std::vector<std::string>{"sign"});
        return *fail;
    };
    target.facing = Angle(180);
    target.facing_limit = Angle(60);
    CHECK(said().message.find("the path lies more than 60 degrees off the way it faces") !=
          std::string::npos);
    target.facing.reset();
    target.patch = {{}, Point3{-200, 10, 0}, Point3{200, 10, 300}};
    CHECK(said().message.find("all of it is turned away from the path") != std::string::npos);
    target.patch = {{}, Point3{-200, -10, 0}, Point3{200, -10, 300}};
    target.smallest_detail = Length(1);
    CHECK(said().message.find("sees its smallest detail of 1 mm at 2.1") != std::string::npos);
    CHECK(said().rule == "smallest-detail.default");
    CHECK(*said().required == 3);
    target.smallest_detail = Length(3);
    CHECK(finding_of(sightlines_of(scene.staging()).findings, Grade::fail) == nullptr);
}

TEST_CASE("missed by one kind of visitor warns, by most of the audience fails") {
    for (const double child_share : {0.3, 0.7}) {
        SightScene scene;
        scene.add("buoy", SphereForm{300}, {0, 400, 1300});
        scene.add("counter", BoxForm{6000, 200, 1250}, {0, -1000, 0});
        scene.add_target("buoy", "buoy");
        Visitor child = adult(900);
        child.id = child.name = "child";
        child.share = Number(child_share);
        Visitor tall = adult(1700);
        tall.share = Number(1 - child_share);
        scene.set_visitors({tall, child});
        const Sightlines lines = sightlines_of(scene.staging());
        const Finding* fail = finding_of(lines.findings, Grade::fail);
        const Finding* warn = finding_of(lines.findings, Grade::warn);
        CHECK((fail != nullptr) == (child_share > 0.5));
        CHECK((warn != nullptr) == (child_share < 0.5));
        const Finding* said = fail != nullptr ? fail : warn;
        REQUIRE(said != nullptr);
        CHECK(said->message.find("by child:") != std::string::npos);
    }
}

TEST_CASE("seen only far above or below the line of sight warns") {
    for (const double height : {1500.0, 3200.0}) {
        SightScene scene;
        scene.add("lantern", SphereForm{200}, {0, 0, height});
        scene.add_target("lantern", "lantern");
        const Sightlines lines = sightlines_of(scene.staging());
        const Finding* warn = finding_of(lines.findings, Grade::warn);
        CHECK((warn != nullptr) == (height > 2000));
        if (warn == nullptr) continue;
        CHECK(warn->rule == "cone-half-angle.default");
        CHECK(warn->source == "default, from memory");
        CHECK(*warn->measured > 15);
        CHECK(warn->message.find("is never comfortable to look at for an adult") !=
              std::string::npos);
        CHECK(*warn->required == 15);
    }
}

TEST_CASE("a target whose piece is switched off is noted, a wrong patch refused with its place") {
    SightScene scene;
    scene.add("buoy", SphereForm{300}, {0, 0, 1300});
    scene.add_target("buoy", "buoy");
    Target& other = scene.add_target("lamp", "lamp");
    Staging staging = scene.staging();
    Sightlines lines = sightlines_of(staging);
    CHECK(lines.targets.size() == 1);
    REQUIRE(lines.findings.size() == 2);
    CHECK(std::any_of(lines.findings.begin(), lines.findings.end(), [](const Finding& f) {
        return f.message == "\"lamp\" was not checked: its piece \"lamp\" is switched off";
    }));

    other.piece = "buoy";
    other.patch.parts = {"wick"};
    staging = scene.staging();
    const auto index = make_ray_index(staging);
    const auto result =
        check_sightlines(staging, *index, rules_in_force({}).value(), SightOptions{}, {});
    REQUIRE_FALSE(result.ok());
    CHECK(result.error().code == ErrorCode::input);
    CHECK(result.error().where == "/targets/1/patch");
    CHECK(result.error().message.find("wick") != std::string::npos);
}

TEST_CASE("a check that is told to stop says so") {
    const Staging staging = landing(8).staging();
    const auto index = make_ray_index(staging);
    Progress progress;
    progress.cancelled = [] { return true; };
    const auto result =
        check_sightlines(staging, *index, rules_in_force({}).value(), SightOptions{}, progress);
    REQUIRE_FALSE(result.ok());
    CHECK(result.error().code == ErrorCode::cancelled);
}

TEST_CASE("a scene without targets, visitors or path makes no sights and no trouble") {
    SightScene scene;
    CHECK(sightlines_of(scene.staging()).targets.empty());
    scene.add("buoy", SphereForm{300}, {0, 0, 1300});
    scene.add_target("buoy", "buoy");
    scene.add_target("back", "buoy", Aim::hide);
    scene.set_visitors({});
    CHECK(sightlines_of(scene.staging()).targets.empty());
    scene.set_visitors({adult()});
    scene.set_path({{0, 0}, {0, 0}}, 1000);
    CHECK(sightlines_of(scene.staging()).stations.empty());
}
