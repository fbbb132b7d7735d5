find_package(CLI11 REQUIRED)
add_library(simulated_shop STATIC ${CMAKE_CURRENT_LIST_DIR}/simulated_catalogue.cpp
                                  ${CMAKE_CURRENT_LIST_DIR}/simulated_luck.cpp
                                  ${CMAKE_CURRENT_LIST_DIR}/simulated_bench.cpp
                                  ${CMAKE_CURRENT_LIST_DIR}/simulated_knowledge.cpp
                                  ${CMAKE_CURRENT_LIST_DIR}/simulated_shop.cpp)
target_link_libraries(simulated_shop PUBLIC shop build plan supply trade base fmt::fmt)
add_executable(bench_calibration ${CMAKE_CURRENT_LIST_DIR}/calibration.cpp)
target_link_libraries(bench_calibration PRIVATE simulated_shop CLI11::CLI11)
target_compile_definitions(bench_calibration PRIVATE ROLLWRIGHT_ROOT="${PROJECT_SOURCE_DIR}")
