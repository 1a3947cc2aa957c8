# Completion of boxlamp for bash. `boxlamp completion bash` prints this.
_boxlamp() {
    local line files='' word="${COMP_WORDS[COMP_CWORD]}"
    [[ $word == [=:] ]] && word=''
    COMPREPLY=()
    while IFS= read -r line; do
        if [[ $line == ':file' ]]; then files=yes; else COMPREPLY+=("$line"); fi
    done < <("${1/#\~/$HOME}" __complete bash "${COMP_LINE:0:COMP_POINT}" 2>/dev/null)
    [[ $files ]] || return 0
    compopt -o filenames 2>/dev/null
    while IFS= read -r line; do
        COMPREPLY+=("$line")
    done < <(compgen -f -- "$word")
}
complete -F _boxlamp boxlamp
