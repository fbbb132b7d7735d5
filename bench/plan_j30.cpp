// Plans the projects of 30 activities of the open library with 1,000, 5,000 and 50,000 schedules and
// says how far the plans are above the proved optima on average.
//
// Data: Kolisch and Sprecher, EJOR 96 (1996); optima of Demeulemeester and Herroelen.

#include "plan_quality.hpp"

int main(int argc, char** argv) {
  using namespace rollwright::bench;
  return library_quality(argc, argv, "j30",
                         {.name = "plan-j30",
                          .yardstick = Yardstick::kKnown,
                          .aims = {.at_5000_percent = 0.10, .at_50000_percent = 0.05}});
}
