#include "mech/wheel_model.hpp"

#include <array>
#include <cmath>
#include <numbers>
#include <string>

#include "base/index.hpp"
#include "mech/field_range.hpp"
#include "mech/nipple_thread.hpp"

namespace rollwright::mech {
namespace {

// Inside: metres and newtons. Unknown 3 k + d is term k (1, cos, sin, cos 2, sin 2, ...) of
// direction d.
using Vector3 = std::array<double, 3>;

std::size_t index_of(RimDirection direction) { return static_cast<std::size_t>(direction); }

std::vector<double> terms_at(double angle, int waves) {
  std::vector<double> terms(at(2 * waves + 1));
  const double cosine = std::cos(angle);
  const double sine = std::sin(angle);
  terms[0] = 1;
  double last_cosine = 1;
  double last_sine = 0;
  for (int n = 1; n <= waves; ++n) {  // the angle added once more each time
    terms[at(2 * n - 1)] = last_cosine * cosine - last_sine * sine;
    terms[at(2 * n)] = last_sine * cosine + last_cosine * sine;
    last_cosine = terms[at(2 * n - 1)];
    last_sine = terms[at(2 * n)];
  }
  return terms;
}

/// Direction of a spoke as its stretch feels it: loose elbows soften the sideways share.
Vector3 felt_direction(const WheelSpoke& spoke, double elbow_factor) {
  return {std::sqrt(elbow_factor) * spoke.lateral, spoke.radial, spoke.tangential};
}

double stretch_stiffness(const WheelSpoke& spoke) {
  return spoke.rigidity.in(newton) / spoke.path.in(metre);
}

std::array<Vector3, 3> spoke_tensor(const WheelSpoke& spoke, double elbow_factor) {
  const Vector3 n = {spoke.lateral, spoke.radial, spoke.tangential};
  const Vector3 felt = felt_direction(spoke, elbow_factor);
  const double stretch = stretch_stiffness(spoke);
  const double string = spoke.tension.in(newton) / spoke.path.in(metre);
  std::array<Vector3, 3> tensor{};
  for (std::size_t a = 0; a < 3; ++a) {
    for (std::size_t b = 0; b < 3; ++b) {
      tensor[a][b] = stretch * felt[a] * felt[b] + string * ((a == b ? 1 : 0) - n[a] * n[b]);
    }
  }
  return tensor;
}

/// Symmetric 2 by 2 of the ring in its plane for one pair of terms: radial and tangential.
struct InPlane {
  double radial = 0;
  double both = 0;
  double tangential = 0;
};
InPlane ring_in_plane(const RimSection& rim, int waves) {
  const double r = rim.radius.in(metre);
  const double n = waves;
  const double bend = std::numbers::pi * rim.bending_radial / (r * r * r);
  const double length = std::numbers::pi * rim.rigidity.in(newton) / r;
  if (waves == 0) return {.radial = 2 * length};
  return {.radial = bend * n * n * n * n + length,
          .both = -bend * n * n * n - length * n,
          .tangential = bend * n * n + length * n * n};
}

struct Equations {
  std::size_t size;
  std::vector<double> matrix;
  void add(std::size_t i, std::size_t j, double value) {
    matrix[i * size + j] += value;
    if (i != j) matrix[j * size + i] += value;
  }
};

/// A radial cosine moves with a tangential sine, a radial sine with minus the cosine.
void add_ring(Equations& equations, const RimSection& rim, int waves, double line_tension) {
  equations.add(1, 1, ring_in_plane(rim, 0).radial);
  for (int n = 1; n <= waves; ++n) {
    const std::size_t cosine = 3 * at(2 * n - 1);
    const std::size_t sine = 3 * at(2 * n);
    const double lateral =
        1000 * rim_lateral_stiffness(rim, n) - std::numbers::pi * n * n * line_tension;
    const InPlane plane = ring_in_plane(rim, n);
    for (const std::size_t term : {cosine, sine}) {
      equations.add(term, term, lateral);
      equations.add(term + 1, term + 1, plane.radial);
      equations.add(term + 2, term + 2, plane.tangential);
    }
    equations.add(cosine + 1, sine + 2, plane.both);
    equations.add(sine + 1, cosine + 2, -plane.both);
  }
}

void add_spoke(Equations& equations, const WheelSpoke& spoke, const WheelModelSetting& setting) {
  const auto terms = terms_at(spoke.at.in(radian), setting.waves);
  const auto tensor = spoke_tensor(spoke, setting.elbow_factor);
  for (std::size_t i = 0; i < terms.size(); ++i) {
    for (std::size_t j = 0; j <= i; ++j) {
      const double both = terms[i] * terms[j];
      for (std::size_t a = 0; a < 3; ++a) {
        double* row = &equations.matrix[(3 * i + a) * equations.size + 3 * j];
        for (std::size_t b = 0; b < 3; ++b) row[b] += both * tensor[a][b];
      }
    }
  }
}

std::optional<Error> spoke_outside(const WheelSpoke& spoke) {
  return first_outside({{"spoke path", spoke.path.in(mm), 40, 700, "mm"},
                        {"spoke rigidity", spoke.rigidity.in(newton), 1e3, 1e7, "N"},
                        {"spoke tension", spoke.tension.in(newton), 0, 5000, "N"}});
}

std::optional<Error> wheel_outside(const std::vector<WheelSpoke>& spokes,
                                   const WheelModelSetting& setting) {
  for (const WheelSpoke& spoke : spokes) {
    if (auto error = spoke_outside(spoke)) return error;
  }
  return first_outside({{"Fourier terms", static_cast<double>(setting.waves), 8, 120, ""}});
}

}  // namespace

WheelModel::WheelModel(RimSection rim, std::vector<WheelSpoke> spokes, WheelModelSetting setting,
                       PositiveSolver solver)
    : rim_(rim), spokes_(std::move(spokes)), setting_(setting), solver_(std::move(solver)) {}

Result<WheelModel> WheelModel::of(const RimSection& rim, std::vector<WheelSpoke> spokes,
                                  const WheelModelSetting& setting) {
  if (auto error = wheel_outside(spokes, setting)) return std::unexpected(*error);
  const auto even = smeared(rim, spokes, setting.elbow_factor);
  if (!even) return std::unexpected(even.error());
  const std::size_t size = 3 * at(2 * setting.waves + 1);
  Equations equations{size, std::vector<double>(size * size)};
  add_ring(equations, rim, setting.waves, even->line_tension);
  for (const WheelSpoke& spoke : spokes) add_spoke(equations, spoke, setting);
  auto solver = PositiveSolver::of(static_cast<int>(size), std::move(equations.matrix));
  if (!solver) {
    return refuse(Code::kContradiction,
                  "This wheel does not stand by itself: the spokes pull so hard that the rim "
                  "folds, or nothing keeps the rim from turning (radial spokes without tension).",
                  {.field = "spoke tension"});
  }
  return WheelModel(rim, std::move(spokes), setting, std::move(*solver));
}

WheelShape WheelModel::answer(std::vector<double> load) const {
  WheelShape shape{.terms = solver_.solve(std::move(load)), .tension_change = {}};
  for (double& term : shape.terms) term *= 1000;
  for (const WheelSpoke& spoke : spokes_) {
    const Vector3 felt = felt_direction(spoke, setting_.elbow_factor);
    double along = 0;
    for (const auto direction :
         {RimDirection::kLateral, RimDirection::kRadial, RimDirection::kTangential}) {
      along += felt[index_of(direction)] * move(shape, direction, spoke.at);
    }
    shape.tension_change.push_back(-stretch_stiffness(spoke) * along / 1000);
  }
  return shape;
}

WheelShape WheelModel::under_newton(RimDirection direction, Angle where) const {
  std::vector<double> load(at(solver_.size()));
  const auto terms = terms_at(where.in(radian), setting_.waves);
  for (std::size_t k = 0; k < terms.size(); ++k) load[3 * k + index_of(direction)] = terms[k];
  return answer(std::move(load));
}

WheelShape WheelModel::after_turn(int spoke) const {
  ROLLWRIGHT_PROMISE(0 <= spoke && at(spoke) < spokes_.size());
  const WheelSpoke& turned = spokes_[at(spoke)];
  const double pull = stretch_stiffness(turned) * kNipplePitch.in(metre);
  const Vector3 felt = felt_direction(turned, setting_.elbow_factor);
  const auto terms = terms_at(turned.at.in(radian), setting_.waves);
  std::vector<double> load(at(solver_.size()));
  for (std::size_t k = 0; k < terms.size(); ++k) {
    for (std::size_t d = 0; d < 3; ++d) load[3 * k + d] = pull * felt[d] * terms[k];
  }
  WheelShape shape = answer(std::move(load));
  shape.tension_change[at(spoke)] += pull;
  return shape;
}

WheelShape WheelModel::with_bend(const RimBend& bend) const {
  ROLLWRIGHT_PROMISE(2 <= bend.waves && bend.waves <= setting_.waves);
  std::vector<double> load(at(solver_.size()));
  const std::size_t term = 3 * at(bend.sine ? 2 * bend.waves : 2 * bend.waves - 1);
  if (bend.direction == RimDirection::kLateral) {
    load[term] = rim_lateral_stiffness(rim_, bend.waves);  // N/mm times 1 mm
  } else {
    // A bare rim bends without changing its length: tangential = radial / waves.
    const InPlane plane = ring_in_plane(rim_, bend.waves);
    const double sign = bend.sine ? -1 : 1;
    const std::size_t partner = 3 * at(bend.sine ? 2 * bend.waves - 1 : 2 * bend.waves);
    load[term + 1] = (plane.radial + plane.both / bend.waves) / 1000;
    load[partner + 2] = sign * (plane.both + plane.tangential / bend.waves) / 1000;
  }
  return answer(std::move(load));
}

double WheelModel::move(const WheelShape& shape, RimDirection direction, Angle where) const {
  const auto terms = terms_at(where.in(radian), setting_.waves);
  double sum = 0;
  for (std::size_t k = 0; k < terms.size(); ++k) {
    sum += terms[k] * shape.terms[3 * k + index_of(direction)];
  }
  return sum;
}

double WheelModel::stiffness(RimDirection direction, Angle where) const {
  return 1 / move(under_newton(direction, where), direction, where);
}

}  // namespace rollwright::mech
