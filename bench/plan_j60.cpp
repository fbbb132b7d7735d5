// Plans the projects of 60 activities of the open library with 1,000, 5,000 and 50,000 schedules and
// says how far the plans are above the critical path on average.
//
// Data: Kolisch and Sprecher, EJOR 96 (1996).

#include "plan_quality.hpp"

int main(int argc, char** argv) {
  using namespace rollwright::bench;
  return library_quality(argc, argv, "j60",
                         {.name = "plan-j60",
                          .yardstick = Yardstick::kCriticalPath,
                          .aims = {.at_5000_percent = 11.1, .at_50000_percent = 10.75}});
}
