find_package(CLI11 REQUIRED)
find_package(nlohmann_json REQUIRED)
add_executable(bench_tablets ${CMAKE_CURRENT_LIST_DIR}/tablets.cpp
               ${CMAKE_CURRENT_LIST_DIR}/http_client.cpp
               ${CMAKE_CURRENT_LIST_DIR}/server_process.cpp)
target_link_libraries(bench_tablets PRIVATE book fmt::fmt CLI11::CLI11 Threads::Threads
                                            nlohmann_json::nlohmann_json)
target_compile_definitions(bench_tablets PRIVATE ROLLWRIGHT_PROGRAM="$<TARGET_FILE:rollwright>"
                                                 ROLLWRIGHT_DEMO="${PROJECT_SOURCE_DIR}/data/demo")
add_dependencies(bench_tablets rollwright)
