find_package(CLI11 REQUIRED)
add_executable(bench_plan_j60 ${CMAKE_CURRENT_LIST_DIR}/plan_j60.cpp
               ${CMAKE_CURRENT_LIST_DIR}/plan_quality.cpp
               ${CMAKE_CURRENT_LIST_DIR}/plan_instances.cpp)
target_link_libraries(bench_plan_j60 PRIVATE plan base fmt::fmt CLI11::CLI11)
target_compile_definitions(bench_plan_j60 PRIVATE ROLLWRIGHT_ROOT="${PROJECT_SOURCE_DIR}")
