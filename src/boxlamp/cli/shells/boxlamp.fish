# Completion of boxlamp for fish. `boxlamp completion fish` prints this.
function __boxlamp_complete
    set -l words (commandline -opc)
    set -l typed (commandline -ct)
    for line in ($words[1] __complete fish $words[2..-1] "$typed" 2>/dev/null)
        if test "$line" = ':file'
            __fish_complete_path (string replace -r -- '^--[a-z-]+=' '' "$typed")
        else
            echo $line
        end
    end
end
complete -c boxlamp -f -a '(__boxlamp_complete)'
