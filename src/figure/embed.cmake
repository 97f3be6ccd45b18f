# Makes a .cpp of the JSON files of src/figure/data.
# cmake -D OUT=file.cpp -D "SKELETONS=a.json,b.json" -D "POSES=..." -P embed.cmake
function(standpoint_embed variable list out)
  set(rows "")
  string(REPLACE "," ";" files "${list}")
  set(count 0)
  foreach(file IN LISTS files)
    file(READ "${file}" content)
    get_filename_component(name "${file}" NAME)
    string(APPEND rows "    {\"${name}\", R\"json(${content})json\"},\n")
    math(EXPR count "${count} + 1")
  endforeach()
  set(${out} "${${out}}const BuiltInFile built_in_${variable}_files[] = {\n${rows}};\n\
const std::size_t built_in_${variable}_count = ${count};\n" PARENT_SCOPE)
endfunction()

set(text "// Made by embed.cmake.\n#include \"figure/built_in_data.h\"\n\nnamespace standpoint {\n\n")
standpoint_embed(skeleton "${SKELETONS}" text)
standpoint_embed(pose "${POSES}" text)
file(WRITE "${OUT}" "${text}\n} // namespace standpoint\n")
