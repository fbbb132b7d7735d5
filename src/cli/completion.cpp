#include "cli/completion.hpp"

#include "base/text.hpp"

namespace rollwright::cli {

std::string bash_completion(const std::vector<std::string>& verbs) {
  std::string script = R"sh(_rollwright() {
  local word=${COMP_WORDS[COMP_CWORD]} verb=""
  local i
  for ((i = 1; i < COMP_CWORD; i++)); do
    case ${COMP_WORDS[i]} in -*) ;; *) verb=${COMP_WORDS[i]}; break ;; esac
  done
  if [[ $word == -* ]]; then
    COMPREPLY=($(compgen -W "--book --trade --now --who --json --help --version" -- "$word"))
  elif [[ -z $verb ]]; then
    COMPREPLY=($(compgen -W "VERBS" -- "$word"))
  else
    case $verb in
      order|check|choices|why-not|promise|sooner|sheet|move|let-go)
        COMPREPLY=($(compgen -W "$(rollwright orders 2>/dev/null | cut -d' ' -f1)" -- "$word")) ;;
      import)
        COMPREPLY=($(compgen -f -- "$word")) ;;
    esac
  fi
}
complete -F _rollwright rollwright
)sh";
  const std::string place = "VERBS";
  script.replace(script.find(place), place.size(), join(verbs, " "));
  return script;
}

}  // namespace rollwright::cli
