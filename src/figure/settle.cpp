// Figures kept to what they touch and look at.
#include "figure/settle.h"

#include <algorithm>
#include <cmath>
#include <unordered_map>
#include <unordered_set>

#include <glm/geometric.hpp>
#include <glm/trigonometric.hpp>

#include "base/check.h"
#include "figure/contact.h"
#include "figure/solve.h"

namespace standpoint {

namespace {

constexpr int most_rounds = 6; // of figures that answer each other
// Joints that carry this share of the body are the trunk, which is so much the harder to turn:
// common practice, no source.
constexpr double trunk_share = 0.25, steady = 4;
constexpr double same_mm = 0.01; // a goal that moved less is where it was
// Steps of what is written, a degree and a mm: a tenth of a millimetre at the hand.
constexpr double steps_a_degree = 100, steps_a_mm = 100;

// What is asked of one figure, in the axes of its form and built millimetres.
struct Task {
    std::vector<JointAngles> from; // pose and turns, nothing solved
    const Skeleton* skeleton = nullptr;
    double stature = 0;
    glm::dvec3 root{0.0}, shift{0.0}; // of the first joint; how far a seat is from its place
    std::vector<Goal> goals;
};

glm::dvec3 into_form(const PlacedFigure& figure, const glm::dvec3& scene) {
    return to_inner(figure.form, scene);
}

// Of the contact in its segment's axes, middle of its points, of a body of its own stature.
glm::dvec3 middle(const BodyContact& contact) {
    glm::dvec3 sum(0.0);
    for (const glm::dvec3& point : contact.points)
        sum += point;
    return sum / static_cast<double>(contact.points.size());
}

// A contact of the segment that the first joint holds moves with the whole figure only.
bool moves_whole(const Skeleton& skeleton, const BodyContact& contact) {
    return contact.segment == skeleton.joints.front().segment;
}

void add_touch(Task& task, const PlacedFigure& figure, const TouchPlace& place) {
    const Skeleton& skeleton = *figure.figure.skeleton;
    const BodyContact& contact = skeleton.contacts[place.contact];
    if (moves_whole(skeleton, contact)) {
        task.shift = into_form(figure, place.wanted) - into_form(figure, place.found);
        return;
    }
    Goal goal;
    goal.segment = contact.segment;
    goal.point = middle(contact);
    goal.to = into_form(figure, place.wanted);
    task.goals.push_back(goal);
    if (!place.wanted_normal) return;
    goal.kind = GoalKind::direction;
    goal.along = glm::normalize(contact.normal);
    goal.to = glm::transpose(figure.form.rotation) * *place.wanted_normal;
    goal.level = 1;
    task.goals.push_back(goal);
}

void add_look(Task& task, const PlacedFigure& figure, const LookPlace& place) {
    for (const BodyContact& contact : figure.figure.skeleton->contacts) {
        if (contact.kind != ContactKind::eyes) continue;
        Goal goal;
        goal.kind = GoalKind::look;
        goal.segment = contact.segment;
        goal.point = middle(contact);
        goal.along = glm::normalize(contact.normal);
        goal.to = into_form(figure, place.wanted);
        goal.level = 1;
        task.goals.push_back(goal);
        return;
    }
}

const FigureForm& form_of(const Document& document, const PlacedFigure& figure) {
    return std::get<FigureForm>((*document.pieces)[figure.piece]->parts[figure.part].form);
}

using Tasks = std::vector<std::optional<Task>>; // by piece; nothing: no figure

Tasks tasks_of(const Document& document, const PlacedFigures& figures) {
    Tasks tasks(figures.size());
    for (const auto& figure : figures) {
        if (!figure) continue;
        Task& task = tasks[figure->piece].emplace();
        const FigureForm& form = form_of(document, *figure);
        task.skeleton = figure->figure.skeleton.get();
        task.from = joint_angles(*task.skeleton, *figure->figure.pose, form.turns);
        task.stature = figure->figure.stature_mm * figure->scale;
        task.root = figure->posed.segments[task.skeleton->joints.front().segment].origin;
    }
    for (const TouchPlace& place : touch_places(document, figures))
        add_touch(*tasks[place.piece], *figures[place.piece], place);
    for (const LookPlace& place : look_places(document, figures))
        add_look(*tasks[place.piece], *figures[place.piece], place);
    return tasks;
}

bool same_goal(const Goal& a, const Goal& b) {
    return a.kind == b.kind && a.segment == b.segment && a.point == b.point && a.along == b.along &&
           a.level == b.level && glm::length(a.to - b.to) < same_mm;
}
// Skeletons and poses of files are compared by what they come to, not by where they lie.
bool same_task(const Task& a, const Task& b) {
    return a.stature == b.stature && a.from == b.from && a.skeleton->name == b.skeleton->name &&
           glm::length(a.shift - b.shift) < same_mm && glm::length(a.root - b.root) < same_mm &&
           std::equal(a.goals.begin(), a.goals.end(), b.goals.begin(), b.goals.end(), same_goal);
}

// A hand is put out and a head is turned before the back follows.
Chain with_steady_trunk(Chain chain) {
    for (ChainAxis& axis : chain.axes)
        if (chain.carried[axis.joint] > trunk_share) axis.stiffness *= steady;
    return chain;
}

// Everything stays but what lies between the body and a goal.
std::vector<bool> locks_of(const Chain& chain, const std::vector<Goal>& goals) {
    std::vector<bool> locked(chain.axes.size(), true);
    for (const Goal& goal : goals)
        for (const int axis : chain.movers[goal.segment])
            if (chain.axes[axis].joint != 0) locked[axis] = false;
    return locked;
}

double rounded(double value, double steps_per_unit) {
    return std::round(value * steps_per_unit) / steps_per_unit;
}

// The solved turns: of the axes that were free and went somewhere.
std::vector<JointTurn> turns_from(const Chain& chain, const Task& task,
                                  const std::vector<bool>& locked, const ChainState& state) {
    std::vector<JointTurn> turns;
    for (std::size_t i = 0; i < chain.axes.size(); ++i) {
        const ChainAxis& axis = chain.axes[i];
        const double was = task.from[axis.joint][axis.axis];
        const double is = rounded(glm::degrees(state.angles[i]), steps_a_degree);
        if (locked[i] || std::abs(is - was) * steps_a_degree < 1) continue;
        const Joint& joint = task.skeleton->joints[axis.joint];
        turns.push_back(
            {joint.name, joint.axes[axis.axis].name,
             Angle(std::clamp(is, joint.axes[axis.axis].least, joint.axes[axis.axis].most))});
    }
    return turns;
}

std::vector<JointTurn> solved_turns(const Task& task) {
    if (task.goals.empty()) return {};
    const Chain chain = with_steady_trunk(chain_of(*task.skeleton, task.stature));
    SolveRequest request;
    request.from = chain_state(chain, task.from, task.root + task.shift);
    request.goals = task.goals;
    request.locked = locks_of(chain, task.goals);
    return turns_from(chain, task, request.locked, solve(chain, request).state);
}

// Where the origin of the form has to go for the first joint to stay, or come to its place: the
// origin follows the soles, which a solved leg moves.
glm::dvec3 shift_of(const PlacedFigure& figure, const Task& task,
                    const std::vector<JointTurn>& turns, const FigureForm& form) {
    std::vector<JointTurn> all = form.turns;
    all.insert(all.end(), turns.begin(), turns.end());
    const Posed now =
        posed(*task.skeleton, joint_angles(*task.skeleton, *figure.figure.pose, all),
              figure.figure.pose->stance, figure.figure.pose->seat_on_ground, task.stature);
    return task.root + task.shift - now.segments[task.skeleton->joints.front().segment].origin;
}

Length moved(const Length& length, double by) {
    return std::abs(by) * steps_a_mm < 1 ? length : Length(rounded(length.mm + by, steps_a_mm));
}

// The piece as it has to be; null: as it is.
std::shared_ptr<const Piece> settled(const Document& document, const PlacedFigure& figure,
                                     const Task& task) {
    const Piece& piece = *(*document.pieces)[figure.piece];
    Piece made = piece;
    FigureForm& form = std::get<FigureForm>(made.parts[figure.part].form);
    form.solved = solved_turns(task);
    const glm::dvec3 by = figure.form.rotation * shift_of(figure, task, form.solved, form);
    const glm::dvec3 inner = glm::transpose(host_frame(document, piece).rotation) * by;
    made.at.x = moved(made.at.x, inner.x);
    made.at.y = moved(made.at.y, inner.y);
    made.at.z = moved(made.at.z, inner.z);
    if (made == piece) return nullptr;
    return std::make_shared<const Piece>(std::move(made));
}

using Known = std::unordered_map<std::string, Task>;

// A figure that touches and watches nothing keeps what it has, unless it did so before.
bool has_goals(const Task& task) {
    return !task.goals.empty() || task.shift != glm::dvec3(0.0);
}
bool is_settled(const Known& known, const std::string& id, const Task& task) {
    const auto before = known.find(id);
    if (before == known.end()) return !has_goals(task);
    return same_task(before->second, task) || (!has_goals(before->second) && !has_goals(task));
}

// What each figure was asked last, by id of its piece.
Known known_tasks(const Document& document, const Tasks& tasks) {
    Known known;
    for (std::size_t i = 0; i < tasks.size(); ++i)
        if (tasks[i]) known.emplace((*document.pieces)[i]->id, *tasks[i]);
    return known;
}

class Settler {
  public:
    Settler(const Document& start, Known known, const std::string& scene_file,
            const FileAccess& files)
        : document_(start), known_(std::move(known)), scene_file_(scene_file), files_(files) {}

    Result<std::vector<EditStep>> run() {
        for (int round = 0; round < most_rounds; ++round) {
            STANDPOINT_TRY(changed, settle_once());
            if (!changed) break;
        }
        std::vector<EditStep> steps;
        for (const auto& piece : *document_.pieces)
            if (changed_.contains(piece->id)) steps.push_back({ReplacePiece{piece->id, piece}});
        return steps;
    }

  private:
    Result<bool> settle_once() {
        STANDPOINT_TRY(figures, placed_figures(document_, scene_file_, files_));
        const Tasks tasks = tasks_of(document_, figures);
        Edit edit;
        for (const auto& figure : figures) {
            if (!figure) continue;
            const std::string& id = (*document_.pieces)[figure->piece]->id;
            const Task& task = *tasks[figure->piece];
            if (is_settled(known_, id, task)) continue;
            if (auto piece = settled(document_, *figure, task)) {
                edit.steps.push_back({ReplacePiece{id, piece}});
                changed_.insert(id);
            }
        }
        known_ = known_tasks(document_, tasks);
        if (edit.steps.empty()) return false;
        STANDPOINT_TRY(next, apply(document_, edit));
        document_ = std::move(next);
        return true;
    }

    Document document_;
    Known known_;
    const std::string& scene_file_;
    const FileAccess& files_;
    std::unordered_set<std::string> changed_;
};

std::size_t piece_index(const Document& document, const std::string& id) {
    std::size_t at = 0;
    while ((*document.pieces)[at]->id != id)
        ++at;
    return at;
}

// A sitter that is moved by itself is meant to sit somewhere else: its touch goes with it. Null: no
// such touch.
std::shared_ptr<const Piece> seated_anew(const Document& document, const PlacedFigure& figure,
                                         const std::vector<Placement>& placed) {
    Piece made = *(*document.pieces)[figure.piece];
    bool any = false;
    for (Touch& touch : made.touches) {
        const Skeleton& skeleton = *figure.figure.skeleton;
        const int contact = contact_index(skeleton, touch.contact);
        STANDPOINT_CHECK(contact >= 0);
        if (!touch.meets.empty() || !moves_whole(skeleton, skeleton.contacts[contact])) continue;
        const glm::dvec3 found = to_outer(figure.form, figure.posed.contacts[contact].place);
        const Placement& host = placed[piece_index(document, touch.piece)];
        const glm::dvec3 at = to_inner(host.frame, found) / host.scale;
        touch.at = {Length(at.x), Length(at.y), Length(at.z)};
        any = true;
    }
    return any ? std::make_shared<const Piece>(std::move(made)) : nullptr;
}

bool moved_by_itself(const Piece& before, const Piece& after) {
    return !(before.at == after.at) && before.support == after.support &&
           before.host == after.host && before.touches == after.touches;
}

Result<std::vector<EditStep>> seats_taken_anew(const Document& before, const Document& after,
                                               const std::string& scene_file,
                                               const FileAccess& files) {
    std::vector<EditStep> steps;
    STANDPOINT_TRY(figures, placed_figures(after, scene_file, files));
    const std::vector<Placement> placed = placements(after);
    for (const auto& figure : figures) {
        if (!figure) continue;
        const Piece& piece = *(*after.pieces)[figure->piece];
        const Piece* was = find_piece(before, piece.id);
        if (!was || was == &piece || !moved_by_itself(*was, piece)) continue;
        if (auto made = seated_anew(after, *figure, placed))
            steps.push_back({ReplacePiece{piece.id, std::move(made)}});
    }
    return steps;
}

// The pieces that touch or look, and those that are touched or looked at.
std::unordered_set<std::string> involved(const Document& document) {
    std::unordered_set<std::string> ids;
    for (const auto& piece : *document.pieces) {
        if (piece->touches.empty() && !piece->looks_at) continue;
        ids.insert(piece->id);
        for (const Touch& touch : piece->touches)
            ids.insert(touch.piece);
        if (piece->looks_at) ids.insert(piece->looks_at->piece);
    }
    return ids;
}

struct Stand { // a piece as it is and where
    const Piece* piece = nullptr;
    Placement placement;
    friend bool operator==(const Stand& a, const Stand& b) {
        return a.piece == b.piece && a.placement.scale == b.placement.scale &&
               a.placement.frame.origin == b.placement.frame.origin &&
               a.placement.frame.rotation == b.placement.frame.rotation;
    }
};
std::unordered_map<std::string, Stand> stands(const Document& document,
                                              const std::unordered_set<std::string>& ids) {
    std::unordered_map<std::string, Stand> all;
    const std::vector<Placement> placed = placements(document);
    for (std::size_t i = 0; i < placed.size(); ++i) {
        const Piece* piece = (*document.pieces)[i].get();
        if (ids.contains(piece->id)) all.emplace(piece->id, Stand{piece, placed[i]});
    }
    return all;
}

// Whether anything that counts is another or elsewhere; most edits end here.
bool bears_on_figures(const Document& before, const Document& after) {
    if (before.path != after.path || before.visitors != after.visitors) return true;
    const auto was = involved(before), is = involved(after);
    return was != is || stands(before, was) != stands(after, is);
}

bool touches_anything(const Document& document) {
    return std::any_of(document.pieces->begin(), document.pieces->end(), [](const auto& piece) {
        return !piece->touches.empty() || piece->looks_at.has_value();
    });
}

} // namespace

Result<std::vector<EditStep>> settle(const Document& before, const Document& after,
                                     const std::string& scene_file, const FileAccess& files) {
    if (!touches_anything(before) && !touches_anything(after)) return std::vector<EditStep>{};
    if (!bears_on_figures(before, after)) return std::vector<EditStep>{};
    STANDPOINT_TRY(steps, seats_taken_anew(before, after, scene_file, files));
    STANDPOINT_TRY(seated, apply(after, Edit("", steps)));
    STANDPOINT_TRY(figures, placed_figures(before, scene_file, files));
    Settler settler(seated, known_tasks(before, tasks_of(before, figures)), scene_file, files);
    STANDPOINT_TRY(more, settler.run());
    steps.insert(steps.end(), more.begin(), more.end());
    return std::move(steps);
}

Result<std::vector<EditStep>> settle_all(const Document& document, const std::string& scene_file,
                                         const FileAccess& files) {
    return Settler(document, {}, scene_file, files).run();
}

} // namespace standpoint
