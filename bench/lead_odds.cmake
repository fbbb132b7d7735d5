find_package(CLI11 REQUIRED)
add_executable(bench_lead_odds ${CMAKE_CURRENT_LIST_DIR}/lead_odds.cpp)
target_link_libraries(bench_lead_odds PRIVATE supply fmt::fmt CLI11::CLI11)
target_compile_definitions(bench_lead_odds PRIVATE ROLLWRIGHT_ROOT="${PROJECT_SOURCE_DIR}")
