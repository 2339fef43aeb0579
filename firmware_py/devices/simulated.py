class SilentSounder:
    def __init__(self, name):
        self.name = name
        self.played = []

    def play(self, tune):
        self.played.append(tune)

    def close(self):
        pass
