#include "night_by_cvode.hpp"

#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <sunlinsol/sunlinsol_band.h>
#include <sunmatrix/sunmatrix_band.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <stdexcept>
#include <string>

namespace dryclock::reference {
namespace {

constexpr double zero_c = 273.15;

double ln_saturation(double kelvin) {
  return -5800.2206 / kelvin + 1.3914993 - 0.048640239 * kelvin + 4.1764768e-5 * kelvin * kelvin -
         1.4452093e-8 * kelvin * kelvin * kelvin + 6.5459673 * std::log(kelvin);
}
double ln_saturation_slope(double kelvin) {
  return 5800.2206 / (kelvin * kelvin) - 0.048640239 + 2 * 4.1764768e-5 * kelvin -
         3 * 1.4452093e-8 * kelvin * kelvin + 6.5459673 / kelvin;
}

struct Cell {
  double width, permeability, sorption, energy;
};

enum class Liquid { whole, broken, gone };

struct Problem {
  const Night* night = nullptr;
  const Settings* settings = nullptr;
  std::vector<Cell> cells;
  std::size_t segment = 0;  // of the air: between moments segment and segment + 1
  Liquid liquid = Liquid::whole;
  bool dry_found = false;
  // What temperature makes of the grid, refreshed at every call.
  double saturation = 0.0, warming = 0.0, outside = 0.0;
  std::vector<double> capacity;     // kg/(m2 Pa)
  std::vector<double> conductance;  // kg/(m2 s Pa); [0] panel to first cell, [n] last cell to air

  [[nodiscard]] std::size_t columns() const { return settings->dried_area ? 2 : 1; }
  [[nodiscard]] sunindextype size() const { return static_cast<sunindextype>(1 + columns() * cells.size()); }
  [[nodiscard]] double wetted(double water) const {
    switch (liquid) {
      case Liquid::whole:
        return 1.0;
      case Liquid::broken:
        return water / night->break_up;
      case Liquid::gone:
        break;
    }
    return 0.0;
  }

  void refresh(double t) {
    const auto& air = night->air;
    if (!settings->restart_at_moments) {
      while (segment + 2 < air.size() && t >= air[segment + 1].at) {
        ++segment;
      }
      while (segment > 0 && t < air[segment].at) {
        --segment;
      }
    }
    const Moment &a = air[segment], &b = air[segment + 1];
    const double k = (t - a.at) / (b.at - a.at);
    const double air_k = zero_c + a.air_c + k * (b.air_c - a.air_c);
    const double panel_k = zero_c + a.panel_c + k * (b.panel_c - a.panel_c);
    saturation = std::exp(ln_saturation(panel_k));
    warming = ln_saturation_slope(panel_k) * (b.panel_c - a.panel_c) / (b.at - a.at);
    const double vapour = (a.humidity + k * (b.humidity - a.humidity)) * std::exp(ln_saturation(air_k));
    outside = std::min(vapour, saturation);
    double last_half = 0.0;
    double energy = std::nan("");
    double arrhenius = 1.0;
    for (std::size_t i = 0; i < cells.size(); ++i) {
      const Cell& c = cells[i];
      if (c.energy != energy) {
        energy = c.energy;
        arrhenius = std::exp(-energy / 8.314462618 * (1.0 / panel_k - 1.0 / 294.15));
      }
      capacity[i] = c.sorption / saturation * c.width;
      const double half = 0.5 * c.width / (c.permeability * arrhenius);
      conductance[i] = 1.0 / (last_half + half);
      last_half = half;
    }
    conductance[cells.size()] = 1.0 / (last_half + 461.5 * air_k / night->air_layer);
  }
};

int right_hand_side(realtype t, N_Vector state, N_Vector rates, void* user) {
  auto& p = *static_cast<Problem*>(user);
  p.refresh(t);
  const double* y = N_VGetArrayPointer(state);
  double* dy = N_VGetArrayPointer(rates);
  const std::size_t n = p.cells.size(), stride = p.columns();
  const double share = p.wetted(y[0]);
  const double drawn = p.conductance[0] * (p.saturation - y[1]);  // kg/(m2 s) into the film over liquid
  dy[0] = -share * drawn * 1e3;
  const double drying = p.liquid == Liquid::broken ? share * drawn * 1e3 / p.night->break_up : 0.0;  // -ds/dt

  double in_wet = drawn, in_dry = 0.0;
  for (std::size_t i = 0; i < n; ++i) {
    const std::size_t w = 1 + stride * i;
    const double next = i + 1 < n ? y[w + stride] : p.outside;
    const double out_wet = p.conductance[i + 1] * (y[w] - next);
    dy[w] = (in_wet - out_wet) / p.capacity[i] + y[w] * p.warming;
    in_wet = out_wet;
    if (stride == 2) {
      const double next_dry = i + 1 < n ? y[w + 3] : (1.0 - share) * p.outside;
      const double out_dry = p.conductance[i + 1] * (y[w + 1] - next_dry);
      dy[w + 1] = (in_dry - out_dry) / p.capacity[i] + y[w + 1] * p.warming + drying * y[w];
      in_dry = out_dry;
    }
  }
  return 0;
}

// Without the dried area's dependence on w and on the first cell: that part is triangular, so Newton's
// iteration loses nothing but one pass.
int jacobian(realtype t, N_Vector state, N_Vector, SUNMatrix matrix, void* user, N_Vector, N_Vector,
             N_Vector) {
  auto& p = *static_cast<Problem*>(user);
  p.refresh(t);
  const double* y = N_VGetArrayPointer(state);
  const std::size_t n = p.cells.size(), stride = p.columns();
  const double share = p.wetted(y[0]);
  const double drawn = p.conductance[0] * (p.saturation - y[1]);
  const double drying = p.liquid == Liquid::broken ? share * drawn * 1e3 / p.night->break_up : 0.0;
  const auto at = [&](std::size_t row, std::size_t column) -> double& {
    return SM_ELEMENT_B(matrix, static_cast<sunindextype>(row), static_cast<sunindextype>(column));
  };
  at(0, 0) = p.liquid == Liquid::broken ? -drawn * 1e3 / p.night->break_up : 0.0;
  at(0, 1) = share * p.conductance[0] * 1e3;
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t column = 0; column < stride; ++column) {
      const std::size_t w = 1 + stride * i + column;
      const bool tight = column == 1 && i == 0;
      const double below = tight ? 0.0 : p.conductance[i], above = p.conductance[i + 1];
      at(w, w) = -(below + above) / p.capacity[i] + p.warming;
      if (i + 1 < n) {
        at(w, w + stride) = above / p.capacity[i];
      }
      if (i > 0) {
        at(w, w - stride) = below / p.capacity[i];
      }
    }
    if (stride == 2) {
      at(2 + stride * i, 1 + stride * i) = drying;
    }
  }
  return 0;
}

// When the layer breaks up, and when it counts as dry.
int events(realtype, N_Vector state, realtype* out, void* user) {
  const auto& p = *static_cast<Problem*>(user);
  const double water = N_VGetArrayPointer(state)[0];
  out[0] = p.liquid == Liquid::whole ? water - p.night->break_up : 1.0;
  out[1] = p.liquid == Liquid::broken && !p.dry_found ? water - p.night->dry_below : 1.0;
  return 0;
}

void check(int flag, const char* what) {
  if (flag < 0) {
    throw std::runtime_error{std::string{"CVODE: "} + what + " failed with " + std::to_string(flag)};
  }
}

struct Deleter {
  void operator()(SUNContext c) const { SUNContext_Free(&c); }
  void operator()(N_Vector v) const { N_VDestroy(v); }
  void operator()(SUNMatrix m) const { SUNMatDestroy(m); }
  void operator()(SUNLinearSolver s) const { SUNLinSolFree(s); }
  void operator()(void* cvode) const { CVodeFree(&cvode); }
};
template <class T>
using Owned = std::unique_ptr<std::remove_pointer_t<T>, Deleter>;

class Integration {
 public:
  Integration(const Night& night, const Settings& settings) {
    problem_.night = &night;
    problem_.settings = &settings;
    for (const Sheet& sheet : night.sheets) {
      for (int i = 0; i < sheet.cells; ++i) {
        problem_.cells.push_back(
            {sheet.thickness / sheet.cells, sheet.permeability, sheet.sorption, sheet.activation_energy});
      }
    }
    problem_.capacity.resize(problem_.cells.size());
    problem_.conductance.resize(problem_.cells.size() + 1);
    problem_.liquid = night.water <= 0.0             ? Liquid::gone
                      : night.water > night.break_up ? Liquid::whole
                                                     : Liquid::broken;

    SUNContext context = nullptr;
    check(SUNContext_Create(nullptr, &context), "SUNContext_Create");
    context_.reset(context);
    state_.reset(N_VNew_Serial(problem_.size(), context));
    tolerance_.reset(N_VNew_Serial(problem_.size(), context));
    double* y = N_VGetArrayPointer(state_.get());
    double* tolerance = N_VGetArrayPointer(tolerance_.get());
    problem_.refresh(night.air.front().at);
    const double start = night.start_pa >= 0.0 ? night.start_pa : problem_.outside;
    y[0] = night.water;
    tolerance[0] = settings.absolute_water;
    for (sunindextype i = 1; i < problem_.size(); ++i) {
      const bool dry_column = problem_.columns() == 2 && i % 2 == 0;
      y[i] = dry_column ? (1.0 - problem_.wetted(night.water)) * start : start;
      tolerance[i] = settings.absolute_pa;
    }
    const sunindextype band = problem_.settings->dried_area ? 2 : 1;
    matrix_.reset(SUNBandMatrix(problem_.size(), band, band, context));
    solver_.reset(SUNLinSol_Band(state_.get(), matrix_.get(), context));
    cvode_.reset(CVodeCreate(CV_BDF, context));
    check(CVodeInit(cvode_.get(), right_hand_side, night.air.front().at, state_.get()), "CVodeInit");
    check(CVodeSVtolerances(cvode_.get(), settings.relative, tolerance_.get()), "CVodeSVtolerances");
    check(CVodeSetUserData(cvode_.get(), &problem_), "CVodeSetUserData");
    check(CVodeSetLinearSolver(cvode_.get(), solver_.get(), matrix_.get()), "CVodeSetLinearSolver");
    check(CVodeSetJacFn(cvode_.get(), jacobian), "CVodeSetJacFn");
    check(CVodeSetMaxNumSteps(cvode_.get(), 1'000'000), "CVodeSetMaxNumSteps");
    check(CVodeRootInit(cvode_.get(), 2, events), "CVodeRootInit");
    check(CVodeSetNoInactiveRootWarn(cvode_.get()), "CVodeSetNoInactiveRootWarn");
  }

  // Goes on to `until`, through every moment and event on the way.
  void run(double until, Course& course) {
    const auto& air = problem_.night->air;
    while (now_ < until) {
      double stop = until;
      if (problem_.settings->restart_at_moments) {
        while (problem_.segment + 2 < air.size() && air[problem_.segment + 1].at <= now_) {
          next_segment();
        }
        stop = std::min(stop, air[problem_.segment + 1].at);
      }
      if (fresh_) {
        restart();
      }
      check(CVodeSetStopTime(cvode_.get(), stop), "CVodeSetStopTime");
      const int flag = CVode(cvode_.get(), stop, state_.get(), &now_, CV_NORMAL);
      check(flag, "CVode");
      if (flag == CV_ROOT_RETURN) {
        happened(course);
      }
    }
    course.steps = steps_ + current_steps();
  }

  void record(Course& course) {
    problem_.refresh(now_);
    const double* y = N_VGetArrayPointer(state_.get());
    const std::size_t n = problem_.cells.size(), stride = problem_.columns();
    const double share = problem_.wetted(y[0]);
    double held = 0.0;
    for (std::size_t i = 0; i < n; ++i) {
      const double* column = y + 1 + stride * i;
      held += problem_.capacity[i] * (share * column[0] + (stride == 2 ? column[1] : 0.0));
    }
    const std::size_t shown = problem_.liquid == Liquid::gone && stride == 2 ? 1 : 0;
    course.water.push_back(problem_.liquid == Liquid::gone ? 0.0 : y[0]);
    course.film_water.push_back(held * 1e3);
    course.innermost.push_back(y[1 + shown]);
    course.outermost.push_back(y[1 + stride * (n - 1) + shown]);
  }

 private:
  void happened(Course& course) {
    const bool broke = problem_.liquid == Liquid::whole;
    if (!broke) {
      problem_.dry_found = true;
      course.dry_after = now_;
    } else if (problem_.night->break_up > 0.0) {
      problem_.liquid = Liquid::broken;
    } else {
      problem_.liquid = Liquid::gone;
      course.dry_after = now_;
      double* y = N_VGetArrayPointer(state_.get());
      y[0] = 0.0;
      if (problem_.columns() == 2) {
        for (std::size_t i = 0; i < problem_.cells.size(); ++i) {
          y[2 + 2 * i] = y[1 + 2 * i];
        }
      }
    }
    fresh_ = true;
  }

  // Two moments at the same time are a jump: where it is the panel's temperature that jumps, the film keeps
  // its water and so its activity, not its vapour pressure.
  void next_segment() {
    ++problem_.segment;
    const Moment &a = problem_.night->air[problem_.segment], &b = problem_.night->air[problem_.segment + 1];
    if (a.at == b.at) {
      const double ratio = std::exp(ln_saturation(zero_c + b.panel_c) - ln_saturation(zero_c + a.panel_c));
      double* y = N_VGetArrayPointer(state_.get());
      std::for_each(y + 1, y + problem_.size(), [&](double& p) { p *= ratio; });
    }
    fresh_ = true;
  }

  void restart() {
    steps_ += current_steps();
    check(CVodeReInit(cvode_.get(), now_, state_.get()), "CVodeReInit");
    fresh_ = false;
  }

  [[nodiscard]] long current_steps() const {
    long steps = 0;
    CVodeGetNumSteps(cvode_.get(), &steps);
    return steps;
  }

  Problem problem_;
  Owned<SUNContext> context_;
  Owned<N_Vector> state_, tolerance_;
  Owned<SUNMatrix> matrix_;
  Owned<SUNLinearSolver> solver_;
  std::unique_ptr<void, Deleter> cvode_;
  realtype now_ = 0.0;
  bool fresh_ = false;
  long steps_ = 0;
};

}  // namespace

Course solve(const Night& night, const std::vector<double>& times, const Settings& settings) {
  Integration integration{night, settings};
  Course course;
  for (const double t : times) {
    integration.run(t, course);
    integration.record(course);
  }
  return course;
}

}  // namespace dryclock::reference
