using Microsoft.Playwright;
using ShopFloor.Browser.Tests.Harness;

namespace ShopFloor.Browser.Tests.Wall;

/// <summary>The Wall shows as many rows as there is room for, and counts only those that have none.</summary>
[Collection(OnStage.Name)]
public sealed class WallRoomTests(Stage stage)
{
    private sealed class Seen
    {
        public int Shown { get; set; }

        public int Hidden { get; set; }

        public string Rest { get; set; } = "";

        public bool Fits { get; set; }
    }

    /// <summary>With three people's rows gone there is room for more than the three times that always stand.</summary>
    [Theory]
    [InlineData(1920, 1080)]
    [InlineData(3840, 2160)]
    public async Task Times_MoreThanThree_AreShownWhereThereIsRoomAndTheRestIsCounted(int wide, int high)
    {
        await using var visitor = await stage.VisitAsync(Screen.Wall, "bench", dark: false);
        await visitor.Page.SetViewportSizeAsync(wide, high);
        await visitor.GoAsync("/wall");
        await visitor.Page.WaitForSelectorAsync("wall-timers .timer-row");

        var few = await TimesAsync(visitor, 4, rows: 1);
        Assert.Equal((4, 0, ""), (few.Shown, few.Hidden, few.Rest));
        var many = await TimesAsync(visitor, 30, rows: 1);
        Assert.InRange(many.Shown, 4, 29);
        Assert.Equal($"and {many.Hidden} more", many.Rest);
        Assert.True(few.Fits && many.Fits);
    }

    [Theory]
    [InlineData(1280, 720)]
    [InlineData(1920, 1080)]
    [InlineData(3840, 2160)]
    public async Task Time_LongWordsOnTheRight_LeaveTheNameItsRoomAndTheMarksStayBelowIt(int wide, int high)
    {
        await using var visitor = await stage.VisitAsync(Screen.Wall, "bench", dark: false);
        await visitor.Page.SetViewportSizeAsync(wide, high);
        await visitor.GoAsync("/wall");
        await visitor.Page.WaitForSelectorAsync("wall-timers .timer-row");
        var (share, gap) = await visitor.Page.EvaluateAsync<double[]>(
            """
            () => {
              const timer = document.querySelector("wall-timers window-timer");
              const [word, left] = [timer.querySelector(".window-word"), timer.querySelector(".window-left")];
              word.textContent = "Flash-off and what comes after it K4T9XM";
              left.textContent = "may end, 1:12:34 over the shortest";
              const marks = [...timer.querySelectorAll(".min, .max")].filter((m) => !m.hidden).map((m) => m.getBoundingClientRect().top);
              return [
                word.getBoundingClientRect().width / timer.getBoundingClientRect().width,
                Math.min(...marks) - Math.max(word.getBoundingClientRect().bottom, left.getBoundingClientRect().bottom),
              ];
            }
            """
        )
            is [var a, var b]
            ? (a, b)
            : (0, -1);
        Assert.True(share >= 0.5, $"The name has {share:P0} of the line.");
        Assert.True(gap >= 0, $"The marks reach {-gap} px into the words.");
    }

    /// <summary>Without drawings on the right its room goes to the words on the left.</summary>
    [Fact]
    public async Task Columns_NothingIsDrawnOnTheRight_TheLeftOneIsWider()
    {
        await using var visitor = await stage.VisitAsync(Screen.Wall, "bench", dark: false);
        await visitor.GoAsync("/wall");
        await visitor.Page.WaitForSelectorAsync(".wall-columns");
        var share = await visitor.Page.EvaluateAsync<double>(
            """
            () => {
              document.querySelectorAll(".wall-layouts").forEach((d) => d.remove());
              const [left, right] = [...document.querySelectorAll(".wall-column")].map((c) => c.getBoundingClientRect().width);
              return left / right;
            }
            """
        );
        Assert.InRange(share, 1.5, 1.7);
    }

    [Fact]
    public async Task Promises_MoreThanThree_AreShownWhereNoDrawingNeedsTheRoom()
    {
        await using var visitor = await stage.VisitAsync(Screen.Wall, "bench", dark: false);
        await visitor.GoAsync("/wall");
        await visitor.Page.WaitForSelectorAsync("wall-promises", new() { State = WaitForSelectorState.Attached });
        var shown = await visitor.Page.EvaluateAsync<int>(
            """
            async () => {
              const list = document.querySelector("wall-promises");
              document.querySelectorAll(".wall-layouts").forEach((d) => d.remove());
              // What the day's own words take of the column is not the question here: the promises have it to themselves, in rows of one line.
              for (const panel of list.closest(".wall-column").children)
                if (!panel.contains(list)) panel.style.display = "none";
              const words = ["Order 1", "0/1 good", "16:00", "1 h"];
              for (const row of list.querySelectorAll(".promise"))
                [...row.children].forEach((cell, at) => (cell.textContent = words[at]));
              // Late in the day nothing may be promised for today any more.
              while (list.querySelectorAll(".promise").length < 6) {
                const row = document.createElement("div");
                row.className = "promise";
                row.append(...words.map((word) => {
                  const cell = document.createElement("span");
                  cell.textContent = word;
                  return cell;
                }));
                list.append(row);
              }
              for (const row of [...list.querySelectorAll(".promise")].slice(6)) row.remove();
              list.dataset.of = 6;
              await new Promise((go) => setTimeout(go, 300));
              return [...list.querySelectorAll(".promise")].filter((p) => !p.hidden).length;
            }
            """
        );
        Assert.Equal(6, shown);
        var title = await visitor.Page.Locator("wall-promises").Locator("xpath=..").Locator("h2").InnerTextAsync();
        Assert.Equal("Promised today, time to spare", title.Trim());
    }

    /// <summary>Why an order is not planned is read whole, on a second line where the first is too short.</summary>
    [Theory]
    [InlineData(1280, 720)]
    [InlineData(1920, 1080)]
    [InlineData(3840, 2160)]
    public async Task Promise_LongWordsAboutTheTimeToSpare_AreReadWhole(int wide, int high)
    {
        await using var visitor = await stage.VisitAsync(Screen.Wall, "bench", dark: false);
        await visitor.Page.SetViewportSizeAsync(wide, high);
        await visitor.GoAsync("/wall");
        await visitor.Page.WaitForSelectorAsync("wall-promises", new() { State = WaitForSelectorState.Attached });
        var cut = await visitor.Page.EvaluateAsync<string[]>(
            """
            async () => {
              const list = document.querySelector("wall-promises");
              list.replaceChildren();
              for (const why of ["not planned: no time", "not planned: no coating", "not planned: piece set aside"]) {
                const row = document.createElement("div");
                row.className = "promise";
                row.append(...["Order 1234", "0/12 good", "Fri 19:00", why].map((word) => {
                  const cell = document.createElement("span");
                  cell.textContent = word;
                  return cell;
                }));
                list.append(row);
              }
              list.dataset.of = 3;
              await new Promise((go) => setTimeout(go, 300));
              const room = list.closest(".wall-column").getBoundingClientRect();
              const shown = [...list.querySelectorAll(".promise:not([hidden]) span")];
              const rest = shown.map((cell) => [cell.textContent, cell.getBoundingClientRect()]);
              return [
                ...rest.filter(([, box]) => box.left < room.left - 1 || box.right > room.right + 1 || box.bottom > room.bottom + 1).map(([word]) => word),
                ...(shown.length ? [] : ["none is shown"]),
              ];
            }
            """
        );
        Assert.Empty(cut);
    }

    /// <summary>Makes that many times of the first one and leaves that many rows; what is seen then.</summary>
    private static Task<Seen> TimesAsync(Visitor visitor, int times, int rows) =>
        visitor.Page.EvaluateAsync<Seen>(
            """
            async ([times, rows]) => {
              const list = document.querySelector("wall-timers");
              // Some minutes after the start somebody is called, and that takes room of its own.
              document.querySelectorAll("wall-calls > *").forEach((call) => call.remove());
              [...document.querySelectorAll(".now-row")].slice(rows).forEach((r) => r.remove());
              const all = () => [...list.querySelectorAll(".timer-row")];
              // How long its words are changes with the minutes, and with them how many lines they take: here each takes one.
              for (const part of all()[0].querySelectorAll(".window-word, .window-left, .wall-small")) {
                part.style.whiteSpace = "nowrap";
                part.style.overflow = "hidden";
              }
              while (all().length < times) all()[0].before(all()[0].cloneNode(true));
              await new Promise((go) => setTimeout(go, 300));
              const column = list.closest(".wall-column");
              const rest = list.querySelector("[data-rest]");
              return {
                Shown: all().filter((t) => !t.hidden).length,
                Hidden: all().filter((t) => t.hidden).length,
                Rest: rest.hidden ? "" : rest.textContent,
                Fits: column.scrollHeight <= column.clientHeight + 1,
              };
            }
            """,
            new[] { times, rows }
        );
}
