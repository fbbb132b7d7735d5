find_package(CLI11 REQUIRED)
add_executable(bench_balance ${CMAKE_CURRENT_LIST_DIR}/balance.cpp
               ${CMAKE_CURRENT_LIST_DIR}/plan_instances.cpp)
target_link_libraries(bench_balance PRIVATE plan base fmt::fmt CLI11::CLI11)
target_compile_definitions(bench_balance PRIVATE ROLLWRIGHT_ROOT="${PROJECT_SOURCE_DIR}")
