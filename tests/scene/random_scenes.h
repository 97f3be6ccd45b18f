// Random valid scenes and edits, drawn so that every kind of form, support and edit comes up.
#pragma once

#include <algorithm>
#include <string>
#include <vector>

#include "scene/edit.h"
#include "support/random.h"
#include "support/scenes.h"

namespace standpoint::support {

class SceneMaker {
  public:
    explicit SceneMaker(std::uint64_t seed) : random_(seed) {}

    Document document(int pieces) {
        Document made = empty_document();
        made.settings = std::make_shared<const Settings>(settings());
        made.hall = std::make_shared<const Hall>(hall());
        made.sections = std::make_shared<const std::vector<Section>>(sections());
        made.join_lines = std::make_shared<const std::vector<JoinLine>>(
            1, JoinLine{"section-a", "section-b", plan(3000, 0), plan(3000, 1800)});
        made.reference_points = std::make_shared<const std::vector<ReferencePoint>>(
            1, ReferencePoint{"R1", "left front corner of section A", {0, 0, 0}});
        made.visitors = std::make_shared<const std::vector<Visitor>>(1, visitor());
        made.rules = std::make_shared<const RuleChoice>(rules());
        std::vector<std::shared_ptr<const Piece>> all;
        for (int i = 0; i < pieces; ++i)
            all.push_back(piece(fresh_id(), ids(all)));
        std::vector<std::shared_ptr<const Target>> targets;
        for (int i = 0; i < pieces / 4; ++i)
            targets.push_back(target(fresh_id(), *all[below(pieces)]));
        made.pieces = std::make_shared<const std::vector<std::shared_ptr<const Piece>>>(all);
        made.targets = std::make_shared<const std::vector<std::shared_ptr<const Target>>>(targets);
        return made;
    }

    // An edit that may or may not fit the document: dangling ids and cycles come up as well.
    Edit edit(const Document& document) {
        std::vector<EditStep> steps;
        const int count = chance(0.1) ? 3 : 1;
        for (int i = 0; i < count; ++i)
            steps.push_back({step(document)});
        return Edit("edit " + std::to_string(drawn_++), steps);
    }

    std::shared_ptr<const Piece> piece(const std::string& id,
                                       const std::vector<std::string>& hosts) {
        Piece made;
        made.id = id;
        made.name = text();
        made.kind = static_cast<PieceKind>(below(7));
        attach(made.support, made.host, hosts);
        made.at = pose();
        if (chance(0.5)) made.ratio = ratio();
        const int parts = 1 + below(3);
        for (int i = 0; i < parts; ++i)
            made.parts.push_back(part(i));
        for (int i = 0; i < below(3); ++i)
            made.marks.push_back({"mark " + std::to_string(i), {length(), length(), 0}});
        if (const bool figure = std::any_of(
                made.parts.begin(), made.parts.end(),
                [](const Part& p) { return std::holds_alternative<FigureForm>(p.form); });
            figure && !hosts.empty())
            answer(made, hosts);
        made.off = static_cast<Off>(below(3));
        if (chance(0.2)) made.note = "first line\n\tsecond \"line\" \\ ü";
        return std::make_shared<const Piece>(made);
    }

    int below(std::size_t count) {
        return static_cast<int>(random_.integer(0, static_cast<std::int64_t>(count) - 1));
    }
    bool chance(double share) { return random_.uniform(0, 1) < share; }

  private:
    static std::vector<std::string> ids(const std::vector<std::shared_ptr<const Piece>>& pieces) {
        std::vector<std::string> all;
        for (const auto& piece : pieces)
            all.push_back(piece->id);
        return all;
    }
    std::string fresh_id() { return "item-" + std::to_string(next_id_++); }
    std::string text() {
        static const char* const texts[] = {
            "", "ticket hut", "stepped jetty", "tea \"stall\"", "Fährsteg ⚓", "a\\b"};
        return texts[below(std::size(texts))];
    }
    // Some as typed, some as computed.
    Length length() {
        static const char* const typed[] = {"\"5' 3\\\"\"", "\"1.6 m\"", "1600", "1600.0",
                                            "\"2 in\""};
        static const double values[] = {1600.2, 1600, 1600, 1600, 50.8};
        if (!chance(0.3)) return random_.uniform(-5000, 5000);
        const int i = below(std::size(typed));
        Length made = values[i];
        made.as_read = typed[i];
        return made;
    }
    Length size() {
        Length made = chance(0.5) ? Length(below(200) + 1) : Length(random_.uniform(0.1, 300));
        if (chance(0.2)) {
            made = 25.4;
            made.as_read = "\"1 in\"";
        }
        return made;
    }
    Ratio ratio() {
        Ratio made = 1 + below(24);
        if (chance(0.3)) {
            made = 12;
            made.as_read = "\"12:1\"";
        }
        return made;
    }
    Pose6 pose() {
        Pose6 made{length(), length(), length(), below(8) * 45.0, 0, 0};
        if (chance(0.3)) made.tilt = random_.uniform(-90, 90);
        if (chance(0.3)) {
            made.roll = 7.5;
            made.roll.as_read = "\"7.5 deg\"";
        }
        return made;
    }
    Form form() {
        const PlanPoint triangle[] = {plan(0, 0), plan(10, 0.5), plan(5, 20)};
        const std::vector<PlanPoint> outline(std::begin(triangle), std::end(triangle));
        const double low = random_.uniform(1, 10);
        switch (below(std::variant_size_v<Form>)) {
        case 0:
            return BoxForm{size(), size(), size()};
        case 1:
            return CylinderForm{size(), size()};
        case 2:
            return ConeForm{size(), chance(0.5) ? Length(0) : size(), size()};
        case 3:
            return SphereForm{size()};
        case 4:
            return CapsuleForm{low, low * 3};
        case 5:
            return ExtrusionForm{outline, size()};
        case 6:
            return TurningForm{outline};
        case 7:
            return StairsForm{size(), size(), size(), 1 + below(9)};
        case 8:
            return FenceForm{outline, 90, 3, 8, {45, 80}, 2, chance(0.5) ? 0.0 : 4.0};
        case 9:
            return WallForm{120, 4, 180, {{40, 80, 40, 50}, {90, 0, 20, 160}}};
        case 10:
            return TerrainForm{size(), size(), 2, 3, {0, 1, 2.5, 3, 2, 0}};
        case 11:
            return figure();
        default:
            return ModelForm{"models/boat.glb", chance(0.5) ? Length(1000) : Length(25.4)};
        }
    }
    // Touches and a look at others.
    void answer(Piece& made, const std::vector<std::string>& others) {
        static const char* const contacts[] = {"right palm", "left palm", "seat"};
        for (int i = 0; i < below(3); ++i) {
            Touch touch;
            touch.how = static_cast<TouchHow>(below(5));
            touch.contact = contacts[i];
            touch.piece = others[below(others.size())];
            if (chance(0.3))
                touch.meets = "left palm";
            else
                touch.at = {length(), length(), 0};
            if (touch.meets.empty() && chance(0.5)) touch.side = static_cast<PieceSide>(below(6));
            made.touches.push_back(touch);
        }
        if (chance(0.5)) return;
        Gaze gaze;
        if (chance(0.7)) {
            gaze.piece = others[below(others.size())];
            if (chance(0.5)) gaze.at = Point3{length(), 0, length()};
        } else {
            gaze.visitor = visitor().id;
            gaze.way = size();
        }
        made.looks_at = gaze;
    }
    FigureForm figure() {
        FigureForm made;
        made.skeleton = chance(0.8) ? "adult" : "figures/own.json";
        if (chance(0.5)) made.stature = size();
        if (chance(0.7)) made.pose = chance(0.8) ? "standing-easy" : "poses/own.json";
        for (int i = 0; i < below(3); ++i)
            made.turns.push_back(
                {"left elbow", "axis " + std::to_string(i), random_.uniform(-360, 360)});
        if (chance(0.3)) made.solved.push_back({"right elbow", "flexion", random_.uniform(0, 90)});
        if (chance(0.5)) made.dress.coat = "#445566";
        if (chance(0.2)) made.dress.hem = 0.5;
        return made;
    }
    Part part(int index) {
        Part made;
        made.name = index == 0 ? "" : "part " + std::to_string(index);
        made.form = form();
        if (chance(0.5)) made.at = pose();
        if (chance(0.3)) made.colour = "#6f7F86";
        if (chance(0.2)) made.lets_through = 0.25;
        return made;
    }
    void attach(Support& support, std::string& host, const std::vector<std::string>& hosts) {
        support = static_cast<Support>(below(hosts.empty() ? 2 : 4));
        host.clear();
        if (support == Support::section) host = chance(0.5) ? "section-a" : "section-b";
        if (support == Support::stands_on || support == Support::hangs_from)
            host = hosts[below(hosts.size())];
    }
    std::shared_ptr<const Target> target(const std::string& id, const Piece& piece) {
        Target made;
        made.id = id;
        made.name = text();
        made.piece = piece.id;
        made.aim = static_cast<Aim>(below(2));
        if (chance(0.5)) made.patch.parts = {piece.parts.front().name};
        if (chance(0.5)) {
            made.patch.low = Point3{-5, -5, 0};
            made.patch.high = Point3{5, 5.5, 10};
        }
        if (chance(0.5)) made.facing = 90;
        if (chance(0.5)) made.facing_limit = 100;
        if (chance(0.5)) made.seen_share = 0.7;
        if (chance(0.5)) made.smallest_detail = size();
        return std::make_shared<const Target>(made);
    }
    Settings settings() {
        Settings made;
        made.title = "Low Water";
        made.date = chance(0.5) ? "2026-11-25" : "";
        made.units = static_cast<UnitSystem>(below(2));
        made.inch_denominator = 1 << below(7);
        made.setting_ratio = ratio();
        made.figure_ratio = 14;
        if (chance(0.5)) made.course = 96;
        if (chance(0.5)) made.placing_tolerance = 10;
        if (chance(0.5)) made.turning_tolerance = 2;
        return made;
    }
    Hall hall() {
        Hall made;
        made.name = text();
        made.outline = {plan(-4000, -3500), plan(10000, -3500), plan(10000, 7500),
                        plan(-4000, 7500)};
        made.ceiling = 3000 + below(1000);
        made.columns = {{"column-west", plan(-1500, 1000), 0, 0, 400},
                        {"column-east", plan(8000, 1000), 300, 400, 0}};
        made.doors = {{"door-south", plan(3000, -3500), 1800, 2100}};
        return made;
    }
    static std::vector<Section> sections() {
        return {{"section-a", "A", plan(0, 0), 3000, 1800, 150},
                {"section-b", "B", plan(3000, 0), 3000, 1800, 150}};
    }
    Visitor visitor() {
        Visitor made;
        made.id = "child-4";
        made.eye_height = 900 + below(100);
        made.crown = 1100;
        made.seated = chance(0.5);
        made.share = 0.15;
        return made;
    }
    static RuleChoice rules() {
        return {{"ada-2010", "sight-defaults"}, {{"route-width", "1200 mm", "shop standard"}}};
    }
    EditKind step(const Document& document) {
        const auto& pieces = *document.pieces;
        const auto& targets = *document.targets;
        const std::string piece_id =
            pieces.empty() || chance(0.05) ? "nobody" : pieces[below(pieces.size())]->id;
        const std::string target_id =
            targets.empty() || chance(0.05) ? "nobody" : targets[below(targets.size())]->id;
        switch (below(std::variant_size_v<EditKind>)) {
        case 0:
            return PutPiece{below(pieces.size() + 2), piece(fresh_id(), ids(pieces))};
        case 1:
            return ReplacePiece{piece_id, piece(piece_id, ids(pieces))};
        case 2:
            return RemovePiece{piece_id};
        case 4: {
            AttachPiece made{piece_id, Support::none, "", pose()};
            attach(made.support, made.host, ids(pieces));
            return made;
        }
        case 5:
            return SwitchPiece{piece_id, static_cast<Off>(below(3))};
        case 6:
            if (pieces.empty()) break;
            return PutTarget{below(targets.size() + 2),
                             target(fresh_id(), *pieces[below(pieces.size())])};
        case 7:
            if (pieces.empty()) break;
            return ReplaceTarget{target_id, target(target_id, *pieces[below(pieces.size())])};
        case 8:
            return RemoveTarget{target_id};
        case 9:
            return SetSettings{std::make_shared<const Settings>(settings())};
        case 10:
            return SetHall{std::make_shared<const Hall>(hall())};
        case 11:
            return SetSections{std::make_shared<const std::vector<Section>>(sections())};
        case 12:
            return SetJoinLines{std::make_shared<const std::vector<JoinLine>>()};
        case 13:
            return SetReferencePoints{std::make_shared<const std::vector<ReferencePoint>>(
                1, ReferencePoint{"R" + std::to_string(1 + below(9)), "", {length(), 0, 0}})};
        case 14: {
            Path path{{plan(-1500, 5000), plan(-1500, -1500), plan(7500, -1500)}, 2000 + below(99)};
            return SetPath{std::make_shared<const Path>(path)};
        }
        case 15:
            return SetVisitors{std::make_shared<const std::vector<Visitor>>(1, visitor())};
        case 16:
            return SetRules{std::make_shared<const RuleChoice>(rules())};
        default:
            break;
        }
        return MovePiece{piece_id, pose()};
    }

    Random random_;
    int next_id_ = 0;
    int drawn_ = 0;
};

} // namespace standpoint::support
