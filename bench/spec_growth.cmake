find_package(CLI11 REQUIRED)
add_executable(bench_spec_growth ${CMAKE_CURRENT_LIST_DIR}/spec_growth.cpp)
target_link_libraries(bench_spec_growth PRIVATE spec_trials fmt::fmt CLI11::CLI11)
