using Bunit;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Time.Testing;
using MudBlazor;
using MudBlazor.Services;
using ShopFloor.Web.Shared.Controls;

namespace ShopFloor.Web.Tests.Look;

/// <summary>A double click does a thing once.</summary>
public sealed class SecondPressTests : IAsyncDisposable
{
    private readonly BunitContext page = new();
    private readonly FakeTimeProvider clock = new();
    private readonly TaskCompletionSource work = new();
    private int done;

    public SecondPressTests()
    {
        page.Services.AddSingleton<TimeProvider>(clock);
        page.Services.AddLocalization();
        page.JSInterop.Mode = JSRuntimeMode.Loose;
    }

    public ValueTask DisposeAsync() => page.DisposeAsync();

    [Fact]
    public void Form_SecondPressAfterTheFirst_DoesNothing()
    {
        var form = Form(() => Task.FromResult(++done));
        form.Find("form").Submit();
        form.Find("form").Submit();
        Assert.Equal(1, done);
    }

    [Fact]
    public void Form_PressedAgainWithAnotherEntryOrLater_DoesItAgain()
    {
        var form = Form(() => Task.FromResult(++done));
        form.Find("form").Submit();
        form.Find("#amount").Change("12");
        form.Find("form").Submit();
        Assert.Equal(2, done);
        clock.Advance(ActForm.Second);
        form.Find("form").Submit();
        Assert.Equal(3, done);
    }

    [Fact]
    public void Form_SecondPressWhileItIsDone_DoesNothing()
    {
        var form = Form(WaitAsync);
        form.Find("form").Submit();
        clock.Advance(TimeSpan.FromMinutes(1));
        form.Find("form").Submit();
        Assert.Equal(1, done);
    }

    [Fact]
    public void Button_SecondPressWhileItIsDone_DoesNothing()
    {
        var button = page.Render<BigButton>(p => p.Add(b => b.OnClick, WaitAsync));
        button.Find("button").Click();
        button.Find("button").Click();
        Assert.Equal(1, done);
    }

    [Fact]
    public void Question_ConfirmedTwice_IsTakenOnceUntilItIsAskedAgain()
    {
        page.Services.AddMudServices();
        var dialogs = page.Render<MudDialogProvider>();
        var question = page.Render<ConfirmNamed>(p =>
            p.Add(c => c.Open, true).Add(c => c.Action, "Issue").Add(c => c.OnConfirm, () => done++)
        );
        dialogs.Find("button.danger").Click();
        dialogs.Find("button.danger").Click();
        Assert.Equal(1, done);
        question.Render(p => p.Add(c => c.Open, false));
        question.Render(p => p.Add(c => c.Open, true));
        dialogs.WaitForElement("button.danger").Click();
        Assert.Equal(2, done);
    }

    private IRenderedComponent<ActForm> Form(Func<Task> act) =>
        page.Render<ActForm>(p =>
            p.Add(f => f.OnSubmit, act).AddChildContent<TextField>(t => t.Add(f => f.Name, "amount").Add(f => f.Label, "Amount"))
        );

    private Task WaitAsync()
    {
        done++;
        return work.Task;
    }
}
