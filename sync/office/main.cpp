// crossarm-office: the office's command.
int main() {
    return 2;
}
